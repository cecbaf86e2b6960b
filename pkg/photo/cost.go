package photo

/*
#include <malloc.h>

// keep_little makes glibc's malloc give large blocks back to the system as
// soon as they are freed, and to keep few pools of small ones.
static void keep_little(int large) {
#ifdef __GLIBC__
	mallopt(M_MMAP_THRESHOLD, large);
	mallopt(M_ARENA_MAX, 2);
#endif
}
*/
import "C"

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

// largeBlock is the size in bytes from which freed memory goes back at once. By
// itself malloc raises it to that of the largest picture freed, and keeps 100 MB
// of holes between pictures of different sizes (seen over 500 photos).
const largeBlock = 1 << 20

// ManyAtOnce prepares the whole process for reading as many photos at a time as
// there are cores: OpenCV no longer divides single pictures among the cores, and
// the C libraries give memory back when they are done with it.
func ManyAtOnce() {
	onOneCore()
	C.keep_little(largeBlock)
}
