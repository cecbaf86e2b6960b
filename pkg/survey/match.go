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

// ByName is the station that a photo belongs to by its file's name: "Rear Left
// (2).JPG", "back_left-3.jpeg" and "IMG_1234 LeftRear.heic" are all rear-left.
// Numbers and dates do not matter, but for those that stations are named with.
//
// It never guesses. A name that holds no station, half of one or parts of two
// gives "" and the reason, with what to do about it.
func (s *Stations) ByName(file string) (name, reason string) {
	list := words(copyMark.ReplaceAllString(stem(file), ""))
	if full := standingAlone(list); full != nil {
		list = full
	}
	list = s.atoms(list)
	named := s.stationWords(list)
	if len(named) == 0 {
		return "", "its name holds no station" + s.next(file)
	}
	name, ok := s.find(s.known, once(named))
	switch {
	case !ok:
		return "", fmt.Sprintf("its name says %s, which is not the name of one station%s", quoted(named), s.next(file))
	case !s.together(list):
		return "", fmt.Sprintf("its name says %s with other words between%s", quoted(named), s.next(file))
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

// stationWords are the words of the name that stations are made of.
func (s *Stations) stationWords(list []string) (found []string) {
	for _, word := range list {
		if s.counts(word) {
			found = append(found, word)
		}
	}
	return found
}

// counts reports whether a word, or a number, is part of a station's name.
func (s *Stations) counts(word string) bool {
	_, known := s.vocab[word]
	return known
}

// once takes a name written twice over, "rear left, rear left", for once.
func once(list []string) []string {
	for n := 1; n <= len(list)/2; n++ {
		if len(list)%n == 0 && slices.Equal(slices.Repeat(list[:n], len(list)/n), list) {
			return list[:n]
		}
	}
	return list
}

// together reports whether nothing but numbers and filler stands between the
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
