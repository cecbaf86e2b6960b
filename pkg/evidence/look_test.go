package evidence

import (
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	for name, s := range map[string]Sheet{"example": withPictures(t, example()), "crowd": withPictures(t, crowd(17))} {
		save(t, dir+"/"+name+".html", func(f *os.File) error { return s.WriteHTML(f) })
		save(t, dir+"/"+name+".pdf", func(f *os.File) error { return s.WritePDF(f) })
	}
}
