package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"runtime"

	"gocv.io/x/gocv"
)

// All calls into OpenCV stand in this file. A picture's bytes belong to Go and
// are pinned while a Mat looks at them, so that OpenCV writes its last step
// straight into the result.

// OpenCVVersion is the version of the OpenCV that was loaded.
func OpenCVVersion() string { return gocv.OpenCVVersion() }

// onOneCore keeps OpenCV from dividing a picture among the cores, in the whole
// process.
func onOneCore() { gocv.SetNumThreads(1) }

// decode turns the file's bytes into the upright picture.
func decode(data []byte, head header, orientation int) (Image, error) {
	if head.format == heifFormat {
		return decodeHEIF(data, head)
	}
	runsOut := func() bool { return entropyRunsOut(data) }
	if head.slowCheck {
		runsOut = inBackground(runsOut)
	}
	turned := ready(head, orientation)
	stored := newImage(head.width, head.height)
	if err := decodeStored(data, stored); err != nil {
		return Image{}, refuse(Truncated, err,
			"the picture is damaged or of an unusual kind: copy it from the phone again, or save it as an ordinary JPEG")
	}
	suspect := head.slowCheck || head.format == jpegFormat && looksFilled(stored)
	if suspect && runsOut() {
		return Image{}, cutOff("the rest of the picture is missing")
	}
	picture, err := upright(stored, turned, orientation)
	if err != nil {
		return Image{}, refuse(NotAnImage, err, "the picture cannot be turned upright: save the photo as an ordinary JPEG")
	}
	return picture, nil
}

// inBackground starts work at once; the returned function waits for its result.
func inBackground[T any](work func() T) func() T {
	result := make(chan T, 1) // with room, so that work ends also when nobody asks
	go func() { result <- work() }()
	return func() T { return <-result }
}

// ready makes the picture that a turned photo will fill, while the file is
// decoded: the system hands memory over page by page, which takes longer than
// turning the pixels. An upright photo needs none.
func ready(head header, orientation int) func() Image {
	const page = 4096 // bytes, the system's smallest; a larger one only makes this touch it more often
	if orientation == 1 {
		return nil
	}
	return inBackground(func() Image {
		width, height := head.width, head.height
		if orientation >= 5 {
			width, height = height, width
		}
		picture := newImage(width, height)
		for i := 0; i < len(picture.Pix); i += page {
			picture.Pix[i] = 0
		}
		return picture
	})
}

// decodeStored decodes to the rows and columns as they are stored: the
// orientation is left to upright, or the picture would be turned twice. OpenCV
// says nothing when it gives up on a damaged header and leaves the picture as it
// was, hence the marks: no picture begins with both.
func decodeStored(data []byte, to Image) error {
	firstRow := to.Pix[:3*to.Width]
	for _, mark := range []byte{0x55, 0xAA} {
		marked := bytes.Repeat([]byte{mark}, len(firstRow))
		copy(firstRow, marked)
		err := to.fill(func(mat *gocv.Mat) error {
			return gocv.IMDecodeIntoMat(data, gocv.IMReadColor|gocv.IMReadIgnoreOrientation, mat)
		})
		if err != nil {
			return fmt.Errorf("decoding: %w", err)
		}
		if !bytes.Equal(firstRow, marked) {
			return nil
		}
	}
	return errors.New("decoding: opencv gave no picture")
}

// upright undoes an EXIF orientation, 1..8, and is the only place that does.
// Stored pixel (x, y) of a picture W x H goes, for 1 to 8, to (x, y),
// (W-1-x, y), (W-1-x, H-1-y), (x, H-1-y), (y, x), (H-1-y, x), (H-1-y, W-1-x)
// and (y, W-1-x).
// turned gives the picture to fill, of the turned size; it is not called for one
// that is upright already.
func upright(stored Image, turned func() Image, orientation int) (Image, error) {
	if orientation == 1 {
		return stored, nil
	}
	out := turned()
	return out, stored.view(func(from *gocv.Mat) error {
		return out.fill(func(to *gocv.Mat) error { return turn(*from, to, orientation) })
	})
}

// turn undoes the orientations 2 to 8.
func turn(stored gocv.Mat, to *gocv.Mat, orientation int) error {
	const leftRight, topBottom, both = 1, 0, -1 // flip codes of OpenCV
	switch orientation {
	case 2:
		return gocv.Flip(stored, to, leftRight)
	case 3:
		return gocv.Flip(stored, to, both)
	case 4:
		return gocv.Flip(stored, to, topBottom)
	case 5:
		return gocv.Transpose(stored, to)
	case 6:
		return transposeAndFlip(stored, to, leftRight)
	case 7:
		return transposeAndFlip(stored, to, both)
	case 8:
		return transposeAndFlip(stored, to, topBottom)
	}
	return fmt.Errorf("there is no orientation %d", orientation)
}

func transposeAndFlip(from gocv.Mat, to *gocv.Mat, flip int) error {
	if err := gocv.Transpose(from, to); err != nil {
		return err
	}
	return gocv.Flip(*to, to, flip)
}

// Reduced returns the picture at a smaller size in pixels, each pixel the mean
// of the area it covers. Pixel centres move: with s = width / m.Width a place x
// of the picture is found at x' = (x + 0.5) s - 0.5, and y likewise. It panics
// when the size is not positive or larger than the picture's own.
func (m Image) Reduced(width, height int) Image {
	if width < 1 || height < 1 || width > m.Width || height > m.Height {
		panic("photo: Reduced wants a size from 1 x 1 to the picture's own")
	}
	small := newImage(width, height)
	err := m.view(func(from *gocv.Mat) error {
		return small.fill(func(to *gocv.Mat) error {
			return gocv.Resize(*from, to, image.Pt(width, height), 0, 0, gocv.InterpolationArea)
		})
	})
	if err != nil {
		panic("photo: reducing a picture: " + err.Error()) // only lack of memory is left
	}
	return small
}

func newImage(width, height int) Image {
	return Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}
}

// view lets use look at the picture as a Mat, which ends with it.
func (m Image) view(use func(*gocv.Mat) error) error {
	var pin runtime.Pinner
	defer pin.Unpin()
	pin.Pin(&m.Pix[0])
	mat, err := gocv.NewMatFromBytes(m.Height, m.Width, gocv.MatTypeCV8UC3, m.Pix)
	if err != nil {
		return err
	}
	defer mat.Close()
	return use(&mat)
}

// fill lets write put its result into the picture's own bytes. OpenCV would
// give the Mat other memory, without a word, if the result differed in size.
func (m Image) fill(write func(to *gocv.Mat) error) error {
	return m.view(func(mat *gocv.Mat) error {
		if err := write(mat); err != nil {
			return err
		}
		pix, err := mat.DataPtrUint8()
		if err != nil {
			return err
		}
		if len(pix) != len(m.Pix) || &pix[0] != &m.Pix[0] {
			return errors.New("opencv gave no picture, or one of another size than asked for")
		}
		return nil
	})
}
