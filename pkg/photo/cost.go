package photo

import "gocv.io/x/gocv"

// Pixels is how many pixels decoding the file would bring into memory at once,
// as the file itself says, so that whoever reads several at a time can bound
// their memory. It is 0 for a file that Read refuses before it decodes.
func Pixels(path string, limits Limits) int64 {
	data, err := readBytes(path, limits.Bytes)
	if err != nil {
		return 0
	}
	head, err := inspect(data)
	if err != nil || head.checkSize(limits.Pixels) != nil {
		return 0
	}
	return max(int64(head.width)*int64(head.height), head.codedWidth*head.codedHeight)
}

// OneThreadEach keeps OpenCV from dividing single pictures among cores: for
// whoever reads as many at a time as there are cores. It holds for the whole
// process.
func OneThreadEach() { gocv.SetNumThreads(1) }
