package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/record"
	"chock/tree"
	"chock/tree/book"
)

// What a shell offers after TAB. Cobra writes the scripts for it.

type completion = func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

// complaintNames offers the complaints of the book, each once.
func complaintNames(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	b, err := tree.Open(book.FS, calculations())
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	var out []string
	for _, c := range b.Complaints {
		if strings.HasPrefix(c.ID, begun) && !slices.Contains(args, c.ID) {
			out = append(out, c.ID+"\t"+c.Say)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// recordFiles offers up to most records: those that are kept in the records'
// folder, by their names, and those that are here. After the first part of a
// path, files of that ending.
func recordFiles(most int) completion {
	return func(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= most {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var out []string
		if filepath.Base(begun) == begun || begun == "" {
			for _, dir := range []string{".", record.Dir()} {
				out = append(out, recordsIn(dir, begun, args)...)
			}
		}
		if out == nil {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		}
		slices.Sort(out)
		return slices.Compact(out), cobra.ShellCompDirectiveNoFileComp
	}
}

func recordsIn(dir, begun string, but []string) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // nothing to offer
	}
	var out []string
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, begun) || slices.Contains(but, name) || !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml") {
			continue
		}
		if ours, err := record.Ours(filepath.Join(dir, name)); err == nil && ours {
			out = append(out, name)
		}
	}
	return out
}

// vehicleNames offers the vehicles of the records that are kept.
func vehicleNames(cmd *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	dir := record.Dir()
	if f := cmd.Flags().Lookup("folder"); f != nil && f.Value.String() != "" {
		dir = f.Value.String()
	}
	kept, err := record.Folder(dir)
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	var out []string
	for _, k := range kept {
		// A name is a stranger's text: one with anything but words in it is left out.
		if k.Record != nil && k.Record.Vehicle != "" && strings.HasPrefix(k.Record.Vehicle, begun) && k.Record.Vehicle == inALine(k.Record.Vehicle) {
			out = append(out, k.Record.Vehicle)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), cobra.ShellCompDirectiveNoFileComp
}

// inALine leaves of text what a shell and its screen may show.
func inALine(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || strings.ContainsRune("`$\\\"';|&<>(){}", r) {
			return -1
		}
		return r
	}, text)
}

// oneOf offers words.
func oneOf(words ...string) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return words, cobra.ShellCompDirectiveNoFileComp
	}
}

// endings offers files of some endings.
func endings(ext ...string) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return ext, cobra.ShellCompDirectiveFilterFileExt
	}
}

// completeFormat offers what can stand after --format.
func completeFormat[F any](cmd *cobra.Command, formats map[string]F) {
	if err := cmd.RegisterFlagCompletionFunc("format", oneOf(slices.Sorted(maps.Keys(formats))...)); err != nil {
		panic("complete: " + err.Error())
	}
}

// addCompletions gives the commands what a shell offers.
func addCompletions(root *cobra.Command) {
	units, colors, orders, yaml := oneOf("us", "metric"), oneOf("auto", "always", "never"), oneOf("authored", "ranked"), endings("yaml", "yml")
	talk := map[string]completion{"resume": recordFiles(most), "vehicle": yaml, "answers": yaml, "units": units, "color": colors, "order": orders, "rest": oneOf("unsure")}
	for _, c := range []struct {
		path  string
		args  completion
		flags map[string]completion
	}{
		{"", oneOf(), talk},
		{"talk", complaintNames, talk},
		{"sheet", complaintNames, map[string]completion{"format": oneOf("text", "html", "yaml"), "units": units}},
		{"report", recordFiles(1), map[string]completion{"vehicle": vehicleNames}},
		{"compare", recordFiles(2), nil},
		{"record delete", recordFiles(most), nil},
	} {
		cmd, _, err := root.Find(strings.Fields(c.path))
		if err != nil {
			panic("complete: " + err.Error())
		}
		cmd.ValidArgsFunction = c.args
		for name, f := range c.flags {
			if err := cmd.RegisterFlagCompletionFunc(name, f); err != nil {
				panic("complete: " + c.path + ": " + err.Error())
			}
		}
	}
}

const most = 1 << 20
