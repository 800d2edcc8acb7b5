package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// newMan makes `chock man`. Cobra's own writer of manual pages would cost each
// start a millisecond, for what is done once.
func newMan() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Write the manual pages into a folder",
		Long:    "Write the manual pages into a folder, which is made where it does not exist: one page for each command.",
		Example: "  chock man ~/.local/share/man/man1\n  man chock",
		Args:    takes(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return err
			}
			n, err := writeMan(args[0], cmd.Root())
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%d pages in %s\n", n, args[0])
			return err
		},
	}
}

// writeMan writes the page of a command and those of the commands under it.
func writeMan(dir string, cmd *cobra.Command) (n int, err error) {
	page := manPage(cmd)
	if err := os.WriteFile(filepath.Join(dir, manName(cmd)+".1"), page, 0o644); err != nil {
		return 0, err
	}
	n = 1
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			m, err := writeMan(dir, c)
			if err != nil {
				return n, err
			}
			n += m
		}
	}
	return n, nil
}

func manName(cmd *cobra.Command) string { return strings.ReplaceAll(cmd.CommandPath(), " ", "-") }

// manPage writes one page in the language of man(7).
func manPage(cmd *cobra.Command) []byte {
	var b bytes.Buffer
	section := func(name string) { fmt.Fprintf(&b, ".SH %s\n", name) }
	fmt.Fprintf(&b, ".TH %s 1 \"\" %q \"\"\n", strings.ToUpper(manName(cmd)), "chock "+version)
	section("NAME")
	fmt.Fprintf(&b, "%s \\- %s\n", roff(manName(cmd)), roff(lowerFirst(cmd.Short)))
	section("SYNOPSIS")
	fmt.Fprintf(&b, ".B %s\n", roff(cmd.UseLine()))
	section("DESCRIPTION")
	long := cmd.Long
	if long == "" {
		long = cmd.Short + "."
	}
	for i, part := range strings.Split(long, "\n\n") {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		b.WriteString(roff(strings.TrimSpace(part)) + "\n")
	}
	flags := func(name string, set *pflag.FlagSet) {
		if !set.HasAvailableFlags() {
			return
		}
		section(name)
		set.VisitAll(func(f *pflag.Flag) {
			if f.Hidden {
				return
			}
			what, usage := pflag.UnquoteUsage(f)
			head := "--" + f.Name
			if f.Shorthand != "" {
				head = "-" + f.Shorthand + ", " + head
			}
			fmt.Fprintf(&b, ".TP\n.B %s\n%s\n", roff(strings.TrimSpace(head+" "+what)), roff(usage))
		})
	}
	flags("OPTIONS", cmd.NonInheritedFlags())
	flags("OPTIONS OF EVERY COMMAND", cmd.InheritedFlags())
	if cmd.Example != "" {
		section("EXAMPLES")
		b.WriteString(".nf\n" + roff(cmd.Example) + "\n.fi\n")
	}
	var also []string
	if cmd.HasParent() {
		also = append(also, manName(cmd.Parent()))
	}
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			also = append(also, manName(c))
		}
	}
	if len(also) > 0 {
		section("SEE ALSO")
		for i, name := range also {
			comma := ","
			if i == len(also)-1 {
				comma = ""
			}
			fmt.Fprintf(&b, ".BR %s (1)%s\n", roff(name), comma)
		}
	}
	return b.Bytes()
}

// roff makes text harmless: no line begins with a request, and a hyphen is the
// one that can be copied.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
