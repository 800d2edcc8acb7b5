package main

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/calc"
	"chock/tree"
	"chock/tree/book"
)

// calculations declares to the tree language what measurements can be judged by.
func calculations() []tree.Calculation {
	var out []tree.Calculation
	for _, c := range calc.Table() {
		t := tree.Calculation{Name: c.Name}
		for _, in := range c.Inputs {
			t.Inputs = append(t.Inputs, tree.CalcInput{Name: in.Name, Kind: in.Kind, List: in.List, Figure: in.Figure, Optional: in.Optional})
		}
		for _, l := range c.Limits {
			t.Limits = append(t.Limits, tree.CalcLimit{ID: l.ID, Outcomes: l.Outcomes})
		}
		out = append(out, t)
	}
	return out
}

// bookAt gives the book in a folder, or the embedded one.
func bookAt(dir string) fs.FS {
	if dir == "" {
		return book.FS
	}
	return os.DirFS(dir)
}

// markWords are the marks of the book in the words of the tool.
var markWords = map[string]string{"published": "published", "memory": "from memory", "practice": "common practice", "estimate": "our estimate"}

// bookSources lists what each cause in the book rests on.
func bookSources() ([]source, error) {
	b, err := tree.Open(book.FS, calculations())
	if err != nil {
		return nil, err
	}
	if err := b.Rest(book.FS); err != nil {
		return nil, err
	}
	var out []source
	for _, c := range b.Causes {
		out = append(out, source{Name: c.ID, Scope: c.Say, Mark: markWords[c.Source.Mark], Source: b.Sources[c.Source.Key]})
	}
	return out, nil
}

func newTree() *cobra.Command {
	cmd := &cobra.Command{Use: "tree", Short: "For people who write trees: check and list a book", Args: takes(cobra.NoArgs)}
	cmd.AddCommand(newTreeCheck(), newTreeList())
	return cmd
}

func newTreeCheck() *cobra.Command {
	return &cobra.Command{
		Use: "check [DIR]", Short: "Prove a book: every fault with its place and its repair", Args: takes(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := ""
			if len(args) == 1 {
				dir = args[0]
				if info, err := os.Stat(dir); err != nil || !info.IsDir() {
					return usagef("%s is not a folder of trees", dir)
				}
			}
			b, err := tree.Load(bookAt(dir), calculations())
			if err != nil {
				return err
			}
			out := new(strings.Builder)
			questions, measurements := 0, 0
			for _, c := range b.Checks {
				if c.Measure == "" {
					questions++
				} else {
					measurements++
				}
			}
			fmt.Fprintf(out, "%d complaints, %d first looks, %d questions, %d measurements, %d figures, %d causes: no fault found in the book\n",
				len(b.Complaints), len(b.Looks), questions, measurements, len(b.Figures), len(b.Causes))
			for _, c := range b.Complaints {
				for _, s := range c.Steps {
					if len(s.Covers) > 0 {
						fmt.Fprintf(out, "%s: %s: otherwise covers %s\n", c.ID, s.ID, strings.Join(s.Covers, ", "))
					}
				}
			}
			for _, c := range b.SingleLooks() {
				fmt.Fprintf(out, "cause %s: one direct look only\n", c.ID)
			}
			_, err = io.WriteString(cmd.OutOrStdout(), out.String())
			return err
		},
	}
}

// listed is one entry of `tree list --json`.
type listed struct {
	ID      string   `json:"id"`
	Kind    string   `json:"kind"` // question measurement figure
	Tree    string   `json:"tree"` // first, or a complaint
	At      string   `json:"at"`
	Place   string   `json:"place"`
	Say     string   `json:"say"`
	Answers []string `json:"answers"`
}

func newTreeList() *cobra.Command {
	var asJSON bool
	var dir string
	cmd := &cobra.Command{
		Use: "list [COMPLAINT]", Short: "The ids of questions and measurements with their answers", Args: takes(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			b, err := tree.Load(bookAt(dir), calculations())
			if err != nil {
				return err
			}
			for _, id := range args {
				if b.Complaint(id) == nil {
					var ids []string
					for _, c := range b.Complaints {
						ids = append(ids, c.ID)
					}
					return usagef("no complaint %q; the book has %s", id, strings.Join(ids, ", "))
				}
			}
			var list []listed
			for _, e := range b.Listing(args...) {
				l := listed{ID: e.Check.ID, Kind: "question", Tree: e.Tree, At: e.Check.At, Place: string(e.Check.Place), Say: e.Check.Ask, Answers: []string{}}
				if e.Check.Measure != "" {
					l.Kind = "measurement"
				}
				for _, a := range e.Check.Answers {
					l.Answers = append(l.Answers, a.ID)
				}
				list = append(list, l)
			}
			if asJSON {
				enc := json.NewEncoder(cmd.OutOrStdout())
				enc.SetIndent("", "  ")
				return enc.Encode(map[string]any{"schema_version": 1, "checks": list})
			}
			out := new(strings.Builder)
			for _, l := range list {
				at := ""
				if l.At != "" {
					at = " at " + l.At
				}
				fmt.Fprintf(out, "%s  (%s, %s%s)\n    %s\n", l.ID, l.Kind, l.Place, at, strings.Join(l.Answers, ", "))
			}
			_, err = io.WriteString(cmd.OutOrStdout(), out.String())
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	cmd.Flags().StringVar(&dir, "book", "", "a folder of trees in place of the tool's own")
	return cmd
}
