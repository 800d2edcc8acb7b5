package main

import (
	"encoding/json"
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"github.com/spf13/cobra"
)

// A source is one line of "chock sources": a figure of a calculation, or what
// a cause in the book rests on, which has no value of its own.
type source struct {
	Name   string // the figure's name, or the cause's id
	Value  *unit.Any
	Scope  string
	Mark   string
	Source string
}

// newSources makes "chock sources". more adds what the book rests on.
func newSources(more ...func() ([]source, error)) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:           "sources",
		Short:         "every figure in the tool, its mark and source",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("sources takes no words, got %q", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			var list []source
			for _, f := range brakes.Figures() {
				list = append(list, source{spaced(f.Name), &f.Value, f.Scope, string(f.Mark), f.Source})
			}
			for _, rows := range more {
				r, err := rows()
				if err != nil {
					return err
				}
				list = append(list, r...)
			}
			if asJSON {
				return sourcesJSON(cmd, list)
			}
			return sourcesText(cmd, list)
		},
	}
	c.SetFlagErrorFunc(flagError)
	c.Flags().BoolVar(&asJSON, "json", false, "write one JSON document")
	return c
}

// spaced turns VariationGood into "variation good".
func spaced(name string) string {
	var out []rune
	for i, r := range name {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
			if i > 0 {
				out = append(out, ' ')
			}
		}
		out = append(out, r)
	}
	return string(out)
}

func sourcesText(cmd *cobra.Command, list []source) error {
	scr, err := ask.NewScreen(cmd.OutOrStdout(), "auto")
	if err != nil {
		return err
	}
	scr.Print(ask.Plain, "Marks: published (document, section and year are named); common practice (a fact of the trade); from memory (published, not read again); our estimate.")
	for _, s := range list {
		scr.Print(ask.Plain, "")
		head := s.Name
		if s.Value != nil {
			head += ": " + s.Value.Both()
		}
		scr.Print(ask.Strong, upperFirst(head))
		if s.Scope != "" {
			scr.Print(ask.Plain, "  for "+s.Scope)
		}
		if s.Source != "" {
			scr.Print(ask.Plain, fmt.Sprintf("  %s: %s", s.Mark, s.Source))
		} else {
			scr.Print(ask.Plain, "  "+s.Mark)
		}
	}
	return scr.Err()
}

func sourcesJSON(cmd *cobra.Command, list []source) error {
	type row struct {
		Name   string   `json:"name"`
		Kind   string   `json:"kind,omitempty"`
		Value  *float64 `json:"value"`
		Unit   *string  `json:"unit"`
		Both   *string  `json:"both"` // in both systems, as the screen shows it
		Scope  string   `json:"scope"`
		Mark   string   `json:"mark"`
		Source string   `json:"source"`
	}
	doc := struct {
		Schema  int   `json:"schema_version"`
		Figures []row `json:"figures"`
	}{Schema: 1, Figures: []row{}}
	for _, s := range list {
		r := row{Name: s.Name, Scope: s.Scope, Mark: s.Mark, Source: s.Source}
		if s.Value != nil {
			name, v := "mm", s.Value.SI
			if s.Value.Kind == unit.KindLength {
				v, _ = s.Value.In("mm")
				v = math.Round(v*1e9) / 1e9
			} else {
				name = ""
			}
			both := s.Value.Both()
			r.Kind, r.Value, r.Unit, r.Both = string(s.Value.Kind), &v, &name, &both
		}
		doc.Figures = append(doc.Figures, r)
	}
	e := json.NewEncoder(cmd.OutOrStdout())
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}
