package survey

import (
	"path/filepath"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// places are the words that the stations of a flatbed machine are made of,
// with what people write for each. Top, bottom, upper and lower are left out:
// on a bed seen from above and on one seen from in front they are not the same.
var places = map[string]string{
	"front": "front",
	"rear":  "rear", "back": "rear",
	"left": "left", "right": "right",
	"middle": "middle", "mid": "middle", "centre": "middle", "center": "middle",
}

// short are abbreviations with one reading only. LR may be the left rear or the
// lower right, BL the back or the bottom left: those are not taken.
var short = map[string][]string{
	"rl": {"rear", "left"}, "rr": {"rear", "right"},
	"fl": {"front", "left"}, "fr": {"front", "right"},
}

// byCamera are words that phones, cameras and messengers put into names by
// themselves. An abbreviation beside them still stands alone.
var byCamera = map[string]bool{
	"img": true, "image": true, "dsc": true, "dscf": true, "dscn": true, "pxl": true, "mvimg": true,
	"photo": true, "picture": true, "pic": true, "scan": true, "whatsapp": true, "signal": true, "wa": true,
	"at": true, "am": true, "pm": true, "copy": true, "edited": true, "jpg": true, "jpeg": true, "heic": true,
}

// filler may stand between the words of a station: "rear side, left corner".
var filler = map[string]bool{"corner": true, "side": true, "and": true, "of": true, "the": true}

// stem is a file's name without its endings: "a.jpg" and "a.HEIC.jpg" are "a".
func stem(file string) string {
	name := filepath.Base(file)
	for isPhoto(name) {
		name = strings.TrimSuffix(name, filepath.Ext(name))
	}
	return name
}

// words cuts a name into lower-case words and numbers: at anything that is
// neither letter nor digit, between letters and digits, and where camel case
// begins a word. Letters lose their accents, and wide and ligature forms become
// plain (Unicode Standard Annex 15, form NFKD).
func words(name string) (list []string) {
	var word []rune
	flush := func() {
		if len(word) > 0 {
			list = append(list, strings.ToLower(string(word)))
			word = nil
		}
	}
	runes := plain(name)
	for i, r := range runes {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			flush()
			continue
		}
		if begins(runes, i) {
			flush()
		}
		word = append(word, r)
	}
	flush()
	return list
}

// plain takes the accents off.
func plain(name string) (runes []rune) {
	for _, r := range norm.NFKD.String(name) {
		if !unicode.Is(unicode.Mn, r) {
			runes = append(runes, r)
		}
	}
	return runes
}

// begins reports whether a new word begins at i though nothing stands between:
// "rearLeft", "IMGRear", "left2", "2left".
func begins(runes []rune, i int) bool {
	if i == 0 {
		return false
	}
	before, r := runes[i-1], runes[i]
	switch {
	case unicode.IsDigit(before) != unicode.IsDigit(r):
		return true
	case unicode.IsLower(before) && unicode.IsUpper(r):
		return true
	case unicode.IsUpper(before) && unicode.IsUpper(r) && i+1 < len(runes) && unicode.IsLower(runes[i+1]):
		return true
	}
	return false
}

func isNumber(word string) bool { return unicode.IsDigit([]rune(word)[0]) }
