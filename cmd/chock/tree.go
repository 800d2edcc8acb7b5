package main

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/hear"
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
	cmd := &cobra.Command{Use: "tree", Short: "For people who write trees: check, list and draw a book", Args: takes(cobra.NoArgs)}
	cmd.AddCommand(newTreeCheck(), newTreeList(), newTreeDraw())
	return cmd
}

func newTreeCheck() *cobra.Command {
	var dir string
	var minutes bool
	cmd := &cobra.Command{
		Use: "check [DIR]", Short: "Prove a book: every fault with its place and its repair", Args: takes(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 && dir != "" {
				return usagef("DIR and --book both name a book; give one")
			}
			if len(args) == 1 {
				dir = args[0]
			}
			b, err := authored(dir)
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
			for _, c := range b.Complaints {
				for _, words := range slices.Concat(c.Words, c.Hints) {
					if left := hear.Left(words); left != words {
						fmt.Fprintf(out, "%s: of the words %q only %q is heard; small words say nothing\n", c.ID, words, left)
					}
				}
			}
			for _, c := range b.Dead() {
				fmt.Fprintf(out, "%s: its answers change nothing; let one lead, show or clear something, or take it out\n", c.ID)
			}
			for _, odd := range b.Oddities() {
				fmt.Fprintln(out, odd)
			}
			if minutes {
				for _, c := range b.Complaints {
					p := b.Pace(c, paceVehicles)
					fmt.Fprintf(out, "minutes %s: after the first looks by the tree %.0f, by the minutes %.0f (the cause is named in %.0f and %.0f of 100, over the %d likeliest)\n",
						c.ID, p.Authored, p.Ranked, 100*p.AuthoredHit, 100*p.RankedHit, p.Vehicles)
				}
			}
			_, err = io.WriteString(cmd.OutOrStdout(), out.String())
			return err
		},
	}
	cmd.Flags().BoolVar(&minutes, "minutes", false, "the minutes of each tree against those of the ranked order; takes a while")
	bookFlag(cmd, &dir)
	return cmd
}

// paceVehicles is how many vehicles are played through for each complaint.
const paceVehicles = 8

// authored loads and proves the book in a folder, or the embedded one.
func authored(dir string) (*tree.Book, error) {
	if dir != "" {
		if info, err := os.Stat(dir); err != nil || !info.IsDir() {
			return nil, usagef("%s is not a folder of trees", dir)
		}
	}
	return tree.Load(bookAt(dir), calculations())
}

func bookFlag(cmd *cobra.Command, dir *string) {
	cmd.Flags().StringVar(dir, "book", "", "a folder of trees in place of the tool's own")
}

// haveTrees refuses a name that is no complaint of the book, nor `first`
// where that has a meaning.
func haveTrees(b *tree.Book, ids []string, first bool) error {
	var known []string
	if first {
		known = append(known, tree.First)
	}
	for _, c := range b.Complaints {
		known = append(known, c.ID)
	}
	for _, id := range ids {
		if !slices.Contains(known, id) {
			return usagef("no complaint %q; the book has %s", id, strings.Join(known, ", "))
		}
	}
	return nil
}

// Mermaid draws no chart larger than this unless the page that shows it says so.
const (
	mermaidText  = 50000 // characters
	mermaidEdges = 500
)

func newTreeDraw() *cobra.Command {
	var format, dir string
	cmd := &cobra.Command{
		Use: "draw [COMPLAINT...]", Short: "Draw trees: an outline to read, or a Mermaid flowchart",
		Long: "Draw the trees of complaints, of `first` for the first looks, or of the whole book: each step once, with\n" +
			"what it asks, where every answer leads, and the ends with their causes.",
		Example: "  chock tree draw pull | less\n  chock tree draw first\n  chock tree draw pull --format mermaid > pull.mmd",
		Args:    takes(cobra.ArbitraryArgs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if format != "outline" && format != "mermaid" {
				return usagef("--format %s: want outline or mermaid", format)
			}
			b, err := authored(dir)
			if err != nil {
				return err
			}
			if err := haveTrees(b, args, true); err != nil {
				return err
			}
			if format == "mermaid" {
				chart := b.Mermaid(args...)
				if len(chart) > mermaidText || strings.Count(chart, "-->") > mermaidEdges {
					fmt.Fprintln(cmd.ErrOrStderr(), "chock: larger than Mermaid draws by itself (its maxTextSize and maxEdges); draw one complaint at a time")
				}
				_, err := io.WriteString(cmd.OutOrStdout(), chart)
				return err
			}
			scr, err := ask.NewScreen(cmd.OutOrStdout(), "auto")
			if err != nil {
				return err
			}
			for _, l := range b.Outline(args...) {
				style := ask.Plain
				if l.Strong {
					style = ask.Strong
				}
				for i, text := range strings.Split(l.Text, "\n") {
					head := l.Head
					if i > 0 {
						head = strings.Repeat(" ", utf8.RuneCountInString(head))
					}
					if head == "" {
						scr.Print(style, text)
					} else {
						scr.Item(style, head, text)
					}
				}
			}
			return scr.Err()
		},
	}
	cmd.Flags().StringVar(&format, "format", "outline", "outline or mermaid")
	bookFlag(cmd, &dir)
	return cmd
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
			b, err := authored(dir)
			if err != nil {
				return err
			}
			if err := haveTrees(b, args, false); err != nil {
				return err
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
	bookFlag(cmd, &dir)
	return cmd
}
