package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// choice is a flag's value that is one of a few words. It implements
// pflag.Value.
type choice struct {
	to      *string
	allowed []string
}

func (c choice) String() string { return *c.to }
func (c choice) Type() string   { return strings.Join(c.allowed, "|") }

// Set takes one of the allowed words.
func (c choice) Set(word string) error {
	if !slices.Contains(c.allowed, word) {
		return fmt.Errorf("it is one of %s", strings.Join(c.allowed, ", "))
	}
	*c.to = word
	return nil
}

// choiceFlag adds --name with its completion; the first allowed word is the
// default.
func choiceFlag(cmd *cobra.Command, to *string, name, usage string, allowed ...string) {
	*to = allowed[0]
	cmd.Flags().Var(choice{to: to, allowed: allowed}, name, usage)
	complete(cmd, name, allowed, cobra.ShellCompDirectiveNoFileComp)
}

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

// complete offers words for a flag's value.
func complete(cmd *cobra.Command, flag string, words []string, directive cobra.ShellCompDirective) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, directive)); err != nil {
		panic(err) // the flag does not exist: a programmer's error
	}
}

// fileEndings completes arguments to files that end in one of these.
func fileEndings(endings ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(endings, cobra.ShellCompDirectiveFilterFileExt)
}
