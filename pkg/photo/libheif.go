package photo

/*
#cgo pkg-config: libheif
#include <stdlib.h>
#include <libheif/heif.h>
*/
import "C"

import (
	"errors"
	"math"
	"runtime"
	"unsafe"
)

// All calls into libheif stand in this file. It decodes from the bytes that are
// hashed, and undoes the container's rotations and mirrorings itself, so
// nothing here or later turns the picture again.

// HEIFVersion is the version of the libheif that was loaded.
func HEIFVersion() string { return C.GoString(C.heif_get_version()) }

// mainPicture is the picture that a file wants shown, not yet decoded.
type mainPicture struct{ handle *C.struct_heif_image_handle }

// withMainPicture opens data, in which walkHEIF found no fault, and lets use
// look at its main picture, which ends with it.
func withMainPicture(data []byte, use func(mainPicture) error) error {
	var pin runtime.Pinner // libheif keeps looking at the bytes
	defer pin.Unpin()
	pin.Pin(&data[0])
	context := C.heif_context_alloc()
	defer C.heif_context_free(context)
	// Limits are the caller's. libheif's own is by side, counts for thumbnails
	// too, and would leave the size unknown.
	C.heif_context_set_maximum_image_size_limit(context, math.MaxInt32)
	err := C.heif_context_read_from_memory_without_copy(context, unsafe.Pointer(&data[0]), C.size_t(len(data)), nil)
	if err.code != C.heif_error_Ok {
		return heifFault(err)
	}
	var main mainPicture
	err = C.heif_context_get_primary_image_handle(context, &main.handle)
	if err.code != C.heif_error_Ok {
		return heifFault(err)
	}
	defer C.heif_image_handle_release(main.handle)
	return use(main)
}

// size is that of the upright picture in pixels, as the container claims it.
func (m mainPicture) size() (width, height int) {
	return int(C.heif_image_handle_get_width(m.handle)), int(C.heif_image_handle_get_height(m.handle))
}

// exif is the picture's EXIF block as it is stored, nil when there is none.
func (m mainPicture) exif() []byte {
	kind := C.CString("Exif")
	defer C.free(unsafe.Pointer(kind))
	var id C.heif_item_id
	if C.heif_image_handle_get_list_of_metadata_block_IDs(m.handle, kind, &id, 1) < 1 {
		return nil
	}
	size := C.heif_image_handle_get_metadata_size(m.handle, id)
	if size == 0 {
		return nil
	}
	block := make([]byte, size)
	if err := C.heif_image_handle_get_metadata(m.handle, id, unsafe.Pointer(&block[0])); err.code != C.heif_error_Ok {
		return nil
	}
	return block
}

// decode decodes the picture, which must have about the size that the header says.
func (m mainPicture) decode(head header) (Image, error) {
	const eight = 8
	deep := C.heif_image_handle_get_luma_bits_per_pixel(m.handle) > eight
	chroma := C.enum_heif_chroma(C.heif_chroma_interleaved_RGB)
	if deep {
		chroma = C.heif_chroma_interleaved_RRGGBB_LE
	}
	options := C.heif_decoding_options_alloc()
	defer C.heif_decoding_options_free(options)
	options.strict_decoding = 1 // a missing tile is an error
	var picture *C.struct_heif_image
	err := C.heif_decode_image(m.handle, &picture, C.heif_colorspace_RGB, chroma, options)
	if err.code != C.heif_error_Ok {
		return Image{}, heifFault(err)
	}
	defer C.heif_image_release(picture)
	width, height := int(C.heif_image_get_primary_width(picture)), int(C.heif_image_get_primary_height(picture))
	if abs(width-head.width) >= largestBlock || abs(height-head.height) >= largestBlock {
		return Image{}, refuse(Truncated, nil, "the photo is damaged (its picture has another size than it says): copy it from the phone again")
	}
	return interleaved(picture, width, height, deep)
}

// largestBlock is the side of HEVC's largest block in pixels (ITU-T H.265, section
// 7.4.3.2.1: at most 64): writers that leave the crop of the last blocks out, or round
// it otherwise, are forgiven.
const largestBlock = 64

// interleaved copies libheif's red, green, blue to an Image. Of more than eight
// bits the upper eight are kept, as of a 16-bit PNG.
func interleaved(picture *C.struct_heif_image, width, height int, deep bool) (Image, error) {
	var stride C.int
	plane := C.heif_image_get_plane_readonly(picture, C.heif_channel_interleaved, &stride)
	if plane == nil {
		return Image{}, refuse(NotAnImage, nil, "the decoded picture cannot be read: save the photo as an ordinary JPEG")
	}
	stored := unsafe.Slice((*byte)(plane), int(stride)*height)
	bits := int(C.heif_image_get_bits_per_pixel_range(picture, C.heif_channel_interleaved))
	out := newImage(width, height)
	for y := range height {
		row, to := stored[y*int(stride):], out.Pix[3*y*width:3*(y+1)*width]
		if deep {
			upperEight(to, row, bits-8)
		} else {
			swapped(to, row)
		}
	}
	return out, nil
}

func abs(v int) int { return max(v, -v) }

// swapped turns red, green, blue into blue, green, red.
func swapped(to, row []byte) {
	for i := 0; i+2 < len(to); i += 3 {
		to[i], to[i+1], to[i+2] = row[i+2], row[i+1], row[i]
	}
}

// upperEight does the same for samples of two bytes, the low one first.
func upperEight(to, row []byte, drop int) {
	sample := func(i int) byte { return byte((int(row[2*i]) | int(row[2*i+1])<<8) >> drop) }
	for i := 0; i+2 < len(to); i += 3 {
		to[i], to[i+1], to[i+2] = sample(i+2), sample(i+1), sample(i)
	}
}

// heifFault turns libheif's errors into ours.
func heifFault(fault C.struct_heif_error) error {
	cause := errors.New(C.GoString(fault.message))
	switch {
	case fault.subcode == C.heif_suberror_No_or_invalid_primary_item || fault.subcode == C.heif_suberror_No_pitm_box:
		return refuse(NotAnImage, cause, "this HEIF file names no main picture: save one picture of it as a photo")
	case fault.subcode == C.heif_suberror_Nonexisting_item_referenced:
		return refuse(NotAnImage, cause, "this HEIF file's picture is missing or of a kind that is not read here: save the photo as an ordinary HEIC or JPEG")
	case fault.subcode == C.heif_suberror_Security_limit_exceeded:
		return refuse(TooLarge, cause, "the picture claims more than can be read: set the camera to fewer megapixels, 12 are plenty")
	case fault.code == C.heif_error_Unsupported_filetype || fault.code == C.heif_error_Unsupported_feature:
		return refuse(NotAnImage, cause, "this kind of HEIF picture is not read here: save the photo as an ordinary HEIC or JPEG")
	}
	return refuse(Truncated, cause, "the photo is cut off or damaged (libheif finds a fault in it): copy it from the phone again")
}
