package survey

import (
	"fmt"
	"slices"
	"strings"
)

// Default are the stations of a flatbed machine that make a round complete.
func Default() []string {
	return []string{"rear-left", "front-left", "middle", "rear-right", "front-right"}
}

// Stations finds a photo's station by its file's name. Make one by NewStations.
type Stations struct {
	expected []station
	known    []station         // the expected and, after them, those of Default that are not expected
	vocab    map[string]string // every word of a station's name, as it may be written and as it counts
}

// station is a name and the words that name it in a file's name.
type station struct {
	name  string
	words []string
}

// NewStations takes the expected stations in their order; none gives Default.
// Names of one's own are matched as the default ones are. It fails on a name
// without a letter or digit, and on two names that file names cannot distinguish.
func NewStations(expected ...string) (*Stations, error) {
	if len(expected) == 0 {
		expected = Default()
	}
	s := &Stations{vocab: map[string]string{}}
	for word, place := range places {
		s.vocab[word] = place
	}
	for _, name := range expected {
		if err := s.expect(strings.TrimSpace(name)); err != nil {
			return nil, err
		}
	}
	s.known = slices.Clone(s.expected)
	for _, name := range Default() {
		if _, taken := s.find(s.known, s.atoms(words(name))); !taken {
			s.known = append(s.known, station{name, s.atoms(words(name))})
		}
	}
	return s, nil
}

// expect adds a station and its words to the vocabulary.
func (s *Stations) expect(name string) error {
	list := spelled(words(name))
	if len(list) == 0 {
		return fmt.Errorf("%q is no name of a station: give it a letter or a digit", name)
	}
	for _, word := range list {
		if _, known := s.vocab[word]; !known {
			s.vocab[word] = word
		}
	}
	list = s.atoms(list)
	if twin, taken := s.find(s.expected, list); taken {
		return fmt.Errorf("the stations %q and %q read alike in file names: give one of them another name", twin, name)
	}
	s.expected = append(s.expected, station{name, list})
	return nil
}

// spelled writes a station that is named by its abbreviation alone in full, so
// that RL is found in rear-left.jpg too.
func spelled(list []string) []string {
	if len(list) == 1 && short[list[0]] != nil {
		return short[list[0]]
	}
	return list
}

// Expected are the names of the stations that make the set complete, in order.
func (s *Stations) Expected() []string { return names(s.expected) }

// Known are the expected stations and after them the default ones that are not
// expected, which are found by name all the same.
func (s *Stations) Known() []string { return names(s.known) }

func names(list []station) (out []string) {
	for _, one := range list {
		out = append(out, one.name)
	}
	return out
}

// Named finds a station by what a person calls it: any spelling that would do
// in a file's name.
func (s *Stations) Named(name string) (string, bool) {
	for _, one := range s.known {
		if one.name == name {
			return name, true
		}
	}
	return s.find(s.known, s.atoms(spelled(words(name))))
}

// atoms are a name's words in the vocabulary's spelling. A word that is made of
// several, such as "rearleft", is cut up; several that make one, such as "north
// west" for a station northwest, are joined.
func (s *Stations) atoms(list []string) (out []string) {
	for i := 0; i < len(list); {
		n, found := s.joined(list[i:])
		if n == 0 {
			n, found = 1, s.cut(list[i])
		}
		out = append(out, found...)
		i += n
	}
	return out
}

// joined looks for a word of the vocabulary made of the first n words.
func (s *Stations) joined(list []string) (n int, found []string) {
	const most = 3 // words: "north north west"
	for n := 1; n <= min(most, len(list)); n++ {
		if word, known := s.vocab[strings.Join(list[:n], "")]; known {
			return n, []string{word}
		}
	}
	return 0, nil
}

// cut takes a word apart into two or three words for places, or leaves it whole.
func (s *Stations) cut(word string) []string {
	for first, place := range places {
		rest, begins := strings.CutPrefix(word, first)
		if !begins {
			continue
		}
		if second, ok := places[rest]; ok {
			return []string{place, second}
		}
	}
	return []string{word}
}

// find is the station named by exactly these words: in this order, or for words
// of places in any.
func (s *Stations) find(in []station, list []string) (string, bool) {
	for _, one := range in {
		if slices.Equal(one.words, list) || allPlaces(one.words) && slices.Equal(sorted(one.words), sorted(list)) {
			return one.name, true
		}
	}
	return "", false
}

func allPlaces(list []string) bool {
	return !slices.ContainsFunc(list, func(word string) bool { return places[word] == "" })
}

func sorted(list []string) []string { return slices.Sorted(slices.Values(list)) }
