package main

import (
	"errors"
	"math"
	"strconv"

	"github.com/spf13/cobra"
)

// length is a flag's value in mm, above 0. It implements pflag.Value.
type length struct{ to *float64 }

// String is empty until the flag was given, so that help shows no default.
func (l length) String() string {
	if *l.to == 0 {
		return ""
	}
	return number(*l.to)
}

func (l length) Type() string { return "MM" }

// Set takes a finite number above 0.
func (l length) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v > 0) || math.IsInf(v, 0) {
		return errors.New("it is a number of millimetres above 0")
	}
	*l.to = v
	return nil
}

// whole is a flag's value that counts something, from 1. It implements
// pflag.Value.
type whole struct{ to *int }

// String is empty until the flag was given, so that help shows no default.
func (w whole) String() string {
	if *w.to == 0 {
		return ""
	}
	return strconv.Itoa(*w.to)
}

func (w whole) Type() string { return "N" }

// Set takes a whole number from 1.
func (w whole) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return errors.New("it is a whole number from 1")
	}
	*w.to = n
	return nil
}

// fileEndings completes arguments to files that end in one of these.
func fileEndings(endings ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(endings, cobra.ShellCompDirectiveFilterFileExt)
}

// oneFolder completes the one argument to folders.
func oneFolder(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return nil, cobra.ShellCompDirectiveFilterDirs
}
