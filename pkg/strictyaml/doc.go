// Package strictyaml reads small YAML files that people write by hand: specs
// and profiles. Whatever is wrong comes back as a Fault that knows its line,
// column and key. It refuses what has no place in such a file: binary data,
// keys that are not known, several documents, tags, and aliases that could let
// a few lines grow to gigabytes.
package strictyaml
