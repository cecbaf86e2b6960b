package strictyaml

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// box is a small kind of file.
type box struct {
	Name  string    `yaml:"name"`
	Sides []float64 `yaml:"sides"`
	Lid   *box      `yaml:"lid"`
}

func boxRules(aliases int) Rules {
	return Rules{What: "box", MaxBytes: 4000, Depth: 4, Aliases: aliases, Keys: "a box has name, sides, lid",
		Wanted: func(key string) string { return "a value for " + key }}
}

func TestFaultsSayWhereAndWhat(t *testing.T) {
	for yaml, want := range map[string]string{
		"name: a\nwidth: 3":                  "2:1: width: no such key: a box has name, sides, lid",
		"sides: [1, two]":                    "1:12: sides[1]: a value for sides[1]",
		"lid: {sides: 3}":                    "1:14: lid.sides: a value for lid.sides",
		"name: a\n---\nname: b":              `2:1: only one box to a file: take out the line "---" and what follows it`,
		"name: \xff":                         "not a text in UTF-8: this is not a box",
		strings.Repeat("#", 4001):            "over 3 KB: this is not a box",
		"sides: [[[[[1]]]]]":                 "1:12: brackets nested too deep: this is not a box",
		"name: !!str a":                      `1:7: "!!str": tags are not used in a box: write the value out`,
		"lid: &x {name: a, lid: {lid: *x}}":  "1:30: an alias within an anchored value: write that value out",
		"sides: &s [1]\nlid: {sides: *t}":    `2:15: lid.sides: could not find alias "t"`,
		"name: \"\x1b[31m\"\n\x1b[31mkey: 1": "",
	} {
		var b box
		_, err := Decode([]byte(yaml), boxRules(2), &b)
		var fault *Fault
		require.True(t, errors.As(err, &fault), "%q gave %v", yaml, err)
		assert.NotContains(t, err.Error(), "\x1b")
		if want != "" {
			assert.Contains(t, err.Error(), want)
		}
	}
}

// YAML 1.2.2, chapter 10.3.2 resolves each of these to a number or a truth value;
// where a text is wanted it is the text, with or without a remark behind it.
func TestATextThatLooksLikeANumberIsKeptAsWritten(t *testing.T) {
	for _, written := range []string{"1.50", "0042", "0x1F", "0o17", "1_000", "+5", "-0", "1e5", ".nan", "-.inf", "True", "12345678901234567890123", "007.10"} {
		for _, yaml := range []string{"name: " + written, "name: " + written + "   # a remark", "sides: [1.50]\nlid: {name: " + written + "}", "names: [a, " + written + "]", "inner: " + written} {
			var b struct {
				Box   box `yaml:",inline"`
				Names []string
				Inner string
			}
			_, err := Decode([]byte(yaml), boxRules(0), &b)
			require.NoError(t, err, yaml)
			got := b.Box.Name + b.Inner
			if b.Box.Lid != nil {
				got += b.Box.Lid.Name
				assert.Equal(t, []float64{1.5}, b.Box.Sides, "a number stays one")
			}
			if b.Names != nil {
				got += b.Names[1]
			}
			assert.Equal(t, written, got, yaml)
		}
	}
}

func TestAliasesAreCountedAndMayBeForbidden(t *testing.T) {
	const two = "sides: &s [1, 2]\nlid: {sides: *s, lid: {sides: *s}}"
	var b box
	_, err := Decode([]byte(two), boxRules(2), &b)
	require.NoError(t, err)
	assert.Equal(t, []float64{1, 2}, b.Lid.Lid.Sides)
	_, err = Decode([]byte(two), boxRules(1), &b)
	assert.ErrorContains(t, err, "2 aliases: at most 1 are read")
	_, err = Decode([]byte(two), boxRules(0), &b)
	assert.ErrorContains(t, err, "1:8: ")
	assert.ErrorContains(t, err, "anchors, aliases and tags are not used in a box")
}

func TestAFaultOfAMissingKeyIsPlacedAtWhatShouldHoldIt(t *testing.T) {
	var b box
	source, err := Decode([]byte("name: a\nlid: {name: b}"), boxRules(0), &b)
	require.NoError(t, err)
	assert.Equal(t, "2:13: lid.name: x", source.Fault("lid.name", "x").Error())
	inner := source.Fault("lid.sides[2]", "x")
	assert.Equal(t, 2, inner.Line)
	assert.Equal(t, "sides: x", source.Fault("sides", "x").Error())
}

// FuzzDecode: no input may panic; what is refused gives one line.
func FuzzDecode(f *testing.F) {
	for _, seed := range []string{"name: a", "lid: &x {name: a}\nsides: *x", "lid: {<<: {name: a}}", "- 1", "a: [", "? a : b", "name: &a *a", "lid: &a [*a]"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var b box
		source, err := Decode(data, boxRules(3), &b)
		if err != nil {
			var fault *Fault
			require.True(t, errors.As(err, &fault))
			require.NotContains(t, err.Error(), "\n")
			return
		}
		source.Fault("lid.sides[0]", "x")
	})
}
