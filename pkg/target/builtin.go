package target

import (
	"embed"
	"fmt"
	"slices"
	"sync"
)

// DefaultName is the built-in target that is meant when none is named.
const DefaultName = "plain-4"

// names of the built-in targets, the default first.
var names = []string{DefaultName, "wide-3", "pair", "single", "rimmed"}

//go:embed specs/*.yaml
var specFiles embed.FS

// builtins reads the embedded specs once. A bad one is a programmer's error.
var builtins = sync.OnceValue(func() map[string]Spec {
	specs := make(map[string]Spec, len(names))
	for _, name := range names {
		data, err := specFiles.ReadFile("specs/" + name + ".yaml")
		if err != nil {
			panic(fmt.Sprintf("target: built-in %s: %v", name, err))
		}
		spec, err := Parse(name+".yaml", data)
		if err != nil {
			panic(fmt.Sprintf("target: built-in %s: %v", name, err))
		}
		specs[name] = spec
	}
	return specs
})

// Names lists the built-in targets, the default first.
func Names() []string { return slices.Clone(names) }

// Default is the target that is meant when none is named.
func Default() Spec {
	spec, _ := Builtin(DefaultName)
	return spec
}

// Builtin returns the built-in target called name, and whether there is one.
// The caller owns the copy.
func Builtin(name string) (Spec, bool) {
	spec, ok := builtins()[name]
	spec.RingsMM = slices.Clone(spec.RingsMM)
	return spec, ok
}
