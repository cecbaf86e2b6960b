// Package command holds what the programs' command lines have in common: how a
// root command fails and helps, and flags that are one of a few words.
package command

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
)

// HelpWidth is how many letters wide help texts are.
const HelpWidth = 84

// Root gives a program's root command its streams and manners: errors come back
// to main, wrong flags and unknown commands are usage failures with a hint, and
// `help` fails on what there is no help about. Add the subcommands afterwards.
func Root(cmd *cobra.Command, streams terminal.Streams) {
	cmd.Args = cobra.ArbitraryArgs // so that unknown commands come to RunE
	cmd.SilenceErrors, cmd.SilenceUsage = true, true
	cmd.SuggestionsMinimumDistance = 2 // letters
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return cmd.Help()
		}
		return unknown(cmd, args[0])
	}
	cmd.SetIn(streams.In)
	cmd.SetOut(streams.Out)
	cmd.SetErr(streams.Err)
	cmd.SetVersionTemplate("{{.Version}}\n")
	cmd.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return terminal.Usagef(cmd.CommandPath()+" --help", "%w", err)
	})
	cmd.SetHelpCommand(help())
	cmd.SetUsageTemplate(usageTemplate(cmd))
	cmd.AddCommand(man())
}

// usageTemplate is cobra's, with the topics listed as `help` takes them.
func usageTemplate(cmd *cobra.Command) string {
	return strings.NewReplacer(
		"Additional help topics:", "Topics ({{.CommandPath}} help TOPIC):",
		"{{rpad .CommandPath .CommandPathPadding}}", "{{rpad .Name .NamePadding}}",
	).Replace(cmd.UsageTemplate())
}

// Version is what --version says: the program, its version, and the Go that built it.
func Version(program, version string) string {
	return fmt.Sprintf("%s %s (Go %s)", program, version, strings.TrimPrefix(runtime.Version(), "go"))
}

// unknown guesses what was meant.
func unknown(cmd *cobra.Command, name string) error {
	hint := cmd.Name() + " --help"
	if near := cmd.SuggestionsFor(name); len(near) > 0 {
		hint = "did you mean: " + cmd.Name() + " " + strings.Join(near, ", "+cmd.Name()+" ")
	}
	return terminal.Usagef(hint, "there is no command %q", name)
}

// help is `help`, which unlike cobra's own fails on a topic that does not exist.
func help() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND|TOPIC]",
		Short: "Help about a command or a topic",
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			var names []cobra.Completion
			for _, c := range cmd.Root().Commands() {
				if len(args) == 0 && !c.Hidden {
					names = append(names, cobra.CompletionWithDesc(c.Name(), c.Short))
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			about, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return terminal.Usagef(cmd.Root().Name()+" help", "there is no help about %q", strings.Join(args, " "))
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
	}
}

// One takes exactly one argument; what names it, example shows a right call.
func One(what, example string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return terminal.Usagef(example, "no %s given", what)
		case 1:
			return nil
		}
		return terminal.Usagef(example, "one %s at a time, %d were given", what, len(args))
	}
}

// choice is a flag's value that is one of a few words. It implements pflag.Value.
type choice struct {
	to      *string
	allowed []string
}

func (c choice) String() string { return *c.to }
func (c choice) Type() string   { return strings.Join(c.allowed, "|") }

// Set takes one of the allowed words, in either case.
func (c choice) Set(word string) error {
	i := slices.IndexFunc(c.allowed, func(a string) bool { return strings.EqualFold(a, word) })
	if i < 0 {
		return fmt.Errorf("it is one of %s", strings.Join(c.allowed, ", "))
	}
	*c.to = c.allowed[i]
	return nil
}

// ChoiceFlag adds --name with its completion. What to holds is the default, or the
// first allowed word when it holds none.
func ChoiceFlag(cmd *cobra.Command, to *string, name, usage string, allowed ...string) {
	if *to == "" {
		*to = allowed[0]
	}
	cmd.Flags().Var(choice{to: to, allowed: allowed}, name, usage)
	Complete(cmd, name, cobra.FixedCompletions(allowed, cobra.ShellCompDirectiveNoFileComp))
}

// Name is a flag's value that may not be empty: a file, a folder, or what something
// is called. It implements pflag.Value.
type Name struct {
	To   *string
	Kind string // how help shows it: "FILE"
}

// String is the name as it stands.
func (n Name) String() string { return *n.To }

// Type is how help shows the value.
func (n Name) Type() string { return n.Kind }

// Set takes any text but the empty one, such as a script's empty variable gives.
func (n Name) Set(text string) error {
	if text == "" {
		return errors.New("the name is empty")
	}
	*n.To = text
	return nil
}

// Number is a flag's value: a finite number from Least to Most. It implements pflag.Value.
type Number struct {
	To          *float64
	Least, Most float64
	What        string // for the message: "megapixels"
}

// String is the number as it stands.
func (n Number) String() string { return strconv.FormatFloat(*n.To, 'g', -1, 64) }

// Type is how help shows the value.
func (n Number) Type() string { return "N" }

// Set takes a number in the range.
func (n Number) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || v < n.Least || v > n.Most {
		return fmt.Errorf("it is a number of %s from %g to %g", n.What, n.Least, n.Most)
	}
	*n.To = v
	return nil
}

// Complete offers completions for a flag's value.
func Complete(cmd *cobra.Command, flag string, offer cobra.CompletionFunc) {
	if err := cmd.RegisterFlagCompletionFunc(flag, offer); err != nil {
		panic(err) // the flag does not exist: a programmer's error
	}
}

// Written gives a failure to write standard output its exit code.
func Written(err error) error {
	var failure *terminal.Failure
	if err == nil || errors.As(err, &failure) {
		return err
	}
	return terminal.NotWritten(fmt.Errorf("writing the result: %w", err))
}

// Quoted is a path as one writes it in a shell.
func Quoted(path string) string {
	for _, c := range path {
		if !(c == '/' || c == '.' || c == '-' || c == '_' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z') {
			return fmt.Sprintf("%q", path)
		}
	}
	return path
}
