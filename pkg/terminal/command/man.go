package command

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/cpuguy83/go-md2man/v2/md2man"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
	"github.com/spf13/pflag"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/terminal"
)

// man is `man DIR`: the program's manual pages, made from its commands and topics.
func man() *cobra.Command {
	return &cobra.Command{
		Use:   "man DIR",
		Short: "Write the program's manual pages into a folder",
		Long: `Write the manual pages of the program into the folder DIR, which is made when it is
not there: one of section 1 for each command and one of section 7 for each topic.`,
		Args: func(cmd *cobra.Command, args []string) error {
			return One("folder", cmd.CommandPath()+" DIR")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o777); err != nil {
				return terminal.NotWritten(fmt.Errorf("writing manual pages into %s: %w", args[0], disk.Cause(err)))
			}
			return pages{folder: args[0], root: cmd.Root()}.write(cmd.Root())
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
	}
}

// pages writes the manual pages of one program.
type pages struct {
	folder string
	root   *cobra.Command
}

// write writes the page of a command, and those of all below it but completion,
// whose help is for reading in a terminal.
func (p pages) write(cmd *cobra.Command) error {
	for _, below := range cmd.Commands() {
		if below.Name() == "completion" {
			below.Hidden = true // also from what a page refers to
		}
		if below.IsAvailableCommand() || below.IsAdditionalHelpTopicCommand() {
			if err := p.write(below); err != nil {
				return err
			}
		}
	}
	if cmd.IsAdditionalHelpTopicCommand() && cmd.HasParent() {
		return p.file(cmd, 7, p.topic(cmd))
	}
	page, err := p.command(cmd)
	if err != nil {
		return err
	}
	return p.file(cmd, 1, page)
}

// file is the page's place: burngauge-measure.1.
func (p pages) file(cmd *cobra.Command, section int, page []byte) error {
	path := filepath.Join(p.folder, fmt.Sprintf("%s.%d", dashed(cmd), section))
	return terminal.WriteFile(path, func(w io.Writer) error { _, err := w.Write(page); return err })
}

func dashed(cmd *cobra.Command) string { return strings.ReplaceAll(cmd.CommandPath(), " ", "-") }

// command is the page of a command as cobra makes it. The command is not used
// afterwards: its text is changed to Markdown, which cobra takes it for.
func (p pages) command(cmd *cobra.Command) ([]byte, error) {
	cmd.DisableAutoGenTag = true
	cmd.Long = markdown(cmd.Long)
	if cmd == p.root {
		cmd.Long += "\n\nTopics: " + strings.Join(p.topics(), ", ") + "."
	}
	cmd.Flags().VisitAll(withChoices)
	var page bytes.Buffer
	header := &doc.GenManHeader{Section: "1", Source: p.source(), Manual: p.manual()}
	if err := doc.GenMan(cmd, header, &page); err != nil {
		return nil, fmt.Errorf("making the page of %s: %w", cmd.CommandPath(), err)
	}
	return bytes.ReplaceAll(page.Bytes(), []byte(switchedOff), []byte(endOfBold)), nil
}

// How cobra's page ends the name of a switch, which takes no value, and how a page
// should: \fP ends what is bold (groff_man(7)).
const (
	endOfBold   = `\fP`
	switchedOff = endOfBold + "[=false]"
)

// withChoices adds the words that a flag takes to what is said of it: cobra's page,
// unlike its help, shows the default alone.
func withChoices(flag *pflag.Flag) {
	if c, ok := flag.Value.(choice); ok {
		flag.Usage += " (one of " + strings.Join(c.allowed, ", ") + ")"
	}
}

// topics are the pages of section 7, as a page refers to them.
func (p pages) topics() (list []string) {
	for _, cmd := range p.root.Commands() {
		if cmd.IsAdditionalHelpTopicCommand() {
			list = append(list, fmt.Sprintf("**%s(7)**", dashed(cmd)))
		}
	}
	return list
}

// topic is the page of a help topic. Its text is set for a terminal already, so it
// stands as it is. Cobra's own page would call it a command.
func (p pages) topic(cmd *cobra.Command) []byte {
	return md2man.Render(fmt.Appendf(nil, "%% \"%s\" \"7\" \"\" %q %q\n# NAME\n%s \\- %s\n\n# DESCRIPTION\n```\n%s\n```\n\n# SEE ALSO\n**%s(1)**\n",
		strings.ToUpper(dashed(cmd)), p.source(), p.manual(), dashed(cmd), cmd.Short, cmd.Long, p.root.Name()))
}

// source is the program with its version, without what it was built with.
func (p pages) source() string {
	version, _, _ := strings.Cut(p.root.Version, " (")
	return version
}

func (p pages) manual() string { return p.root.Name() + " manual" }

// markdown is a help text as Markdown: paragraphs with its signs escaped, and
// blocks as they are where a line is indented, since those are lists and tables.
func markdown(text string) string {
	blocks := strings.Split(text, "\n\n")
	for i, block := range blocks {
		if strings.HasPrefix(block, " ") || strings.Contains(block, "\n ") {
			blocks[i] = "```\n" + block + "\n```"
			continue
		}
		blocks[i] = markdownSigns.Replace(block)
	}
	return strings.Join(blocks, "\n\n")
}

// markdownSigns are escaped by a backslash (CommonMark 0.31, 2.4).
var markdownSigns = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "<", `\<`, ">", `\>`, "[", `\[`, "]", `\]`, "#", `\#`, "|", `\|`, "~", `\~`)
