package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
)

// newCompare makes `chock compare`.
func newCompare() *cobra.Command {
	var format, output string
	var any bool
	cmd := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Two records of one vehicle, before and after",
		Long: "Two records of one vehicle held against each other: what was put right, what was measured\n" +
			"before and after and whether that is more than the gauges' doubt, which complaints are gone,\n" +
			"and what was not checked. It says what the two records say, and nothing more.",
		Example: "  chock compare before.yaml after.yaml\n  chock compare before.yaml after.yaml --format markdown --output repair.md",
		Args:    takes(cobra.ExactArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			write, ok := compareFormats[format]
			if !ok {
				return usagef("--format %s: want text, markdown, html or json", format)
			}
			old, now, err := loadTwo(whereKept(args[0]), whereKept(args[1]))
			if err != nil {
				return err
			}
			if !any && old.Vehicle != "" && now.Vehicle != "" && !report.SameVehicle(old, now) {
				return fmt.Errorf("two vehicles: %s is of %q, %s of %q; --any holds them against each other all the same", args[0], old.Vehicle, args[1], now.Vehicle)
			}
			var page bytes.Buffer
			if err := write(report.Compare(old, now), &page); err != nil {
				return err
			}
			return putOut(cmd.OutOrStdout(), output, "comparison", page.Bytes(), 0o600)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "text, markdown or json")
	cmd.Flags().StringVar(&output, "output", "", "write it to this file, which must not exist yet")
	completeFormat(cmd, compareFormats)
	cmd.Flags().BoolVar(&any, "any", false, "although the records are of two vehicles")
	return cmd
}

var compareFormats = map[string]func(*report.Comparison, io.Writer) error{
	"text":     func(c *report.Comparison, w io.Writer) error { return c.Doc().Message(w) },
	"markdown": func(c *report.Comparison, w io.Writer) error { return c.Doc().Markdown(w) },
	"html":     func(c *report.Comparison, w io.Writer) error { return c.Doc().HTML(w) },
	"json":     (*report.Comparison).JSON,
}

func loadTwo(a, b string) (old, now *record.Record, err error) {
	if x, err := os.Stat(a); err == nil {
		if y, err := os.Stat(b); err == nil && os.SameFile(x, y) {
			return nil, nil, usagef("%s and %s are one file; name the record before the repair and the one after it", a, b)
		}
	}
	if old, err = record.Load(a); err != nil {
		return nil, nil, err
	}
	now, err = record.Load(b)
	return old, now, err
}
