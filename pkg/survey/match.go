package survey

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// copyMark is what systems put behind a second file of one name.
var copyMark = regexp.MustCompile(`(?i)(\s*\(\d+\)|[\s_-]+copy(\s+\d+)?)+$`)

// ByName tells which station a photo belongs to by its file's name: "Rear Left
// (2).JPG", "back_left-3.jpeg" and "IMG_1234 LeftRear.heic" are all rear-left.
// Numbers and dates do not matter, but for those that stations are named with.
//
// It never guesses. A name that tells no station, half of one or parts of two
// gives "" and the reason, with what to do about it.
func (s *Stations) ByName(file string) (name, reason string) {
	list := words(copyMark.ReplaceAllString(stem(file), ""))
	if full := standingAlone(list); full != nil {
		list = full
	}
	list = s.atoms(list)
	told := s.told(list)
	if len(told) == 0 {
		return "", "its name tells no station" + s.next(file)
	}
	name, ok := s.find(s.known, once(told))
	switch {
	case !ok:
		return "", fmt.Sprintf("its name says %s, which is not the name of one station%s", quoted(told), s.next(file))
	case !s.together(list):
		return "", fmt.Sprintf("its name says %s with other words between%s", quoted(told), s.next(file))
	}
	return name, ""
}

// next is what to do about a photo without a station.
func (s *Stations) next(file string) string {
	return fmt.Sprintf(": rename it, or give --assign STATION=%s", shellWord(filepath.Base(file)))
}

// shellWord quotes what a shell would cut up.
func shellWord(text string) string {
	if strings.ContainsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t()&;'\"$!*?[]{}<>|\\`#~", r) }) {
		return strconv.Quote(text)
	}
	return text
}

// standingAlone spells an abbreviation out when it is the name's only word, but
// for numbers and what cameras write.
func standingAlone(list []string) []string {
	var found []string
	for _, word := range list {
		switch {
		case isNumber(word) || byCamera[word]:
		case found == nil && short[word] != nil:
			found = short[word]
		default:
			return nil
		}
	}
	return found
}

// told are the words of the name that stations are made of.
func (s *Stations) told(list []string) (told []string) {
	for _, word := range list {
		if s.counts(word) {
			told = append(told, word)
		}
	}
	return told
}

// counts tells whether a word, or a number, is part of a station's name.
func (s *Stations) counts(word string) bool {
	_, known := s.vocab[word]
	return known
}

// once takes a name told twice over, "rear left, rear left", for once.
func once(told []string) []string {
	for n := 1; n <= len(told)/2; n++ {
		if len(told)%n == 0 && slices.Equal(slices.Repeat(told[:n], len(told)/n), told) {
			return told[:n]
		}
	}
	return told
}

// together tells whether nothing but numbers and filler stands between the
// words that count.
func (s *Stations) together(list []string) bool {
	first := slices.IndexFunc(list, s.counts)
	last := len(list) - 1
	for last > first && !s.counts(list[last]) {
		last--
	}
	for _, word := range list[first : last+1] {
		if !s.counts(word) && !isNumber(word) && !filler[word] {
			return false
		}
	}
	return true
}

func quoted(list []string) string {
	out := make([]string, len(list))
	for i, word := range list {
		out[i] = strconv.Quote(word)
	}
	return strings.Join(out, ", ")
}
