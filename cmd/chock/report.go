package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
)

// newReport makes `chock report`.
func newReport() *cobra.Command {
	var format, output, vehicle, folder string
	cmd := &cobra.Command{
		Use:   "report RECORD",
		Short: "A saved record to read, to print or to hand over",
		Long: "A saved record to read, to print or to hand over: an owner's record, not a certificate.\n" +
			"As text it pastes cleanly into a message; as HTML it is one page with plots, for a phone or for paper,\n" +
			"that wants nothing from a network. With --vehicle it is the history of one vehicle:\n" +
			"its checks by date, how its linings, rotors and drums wear, and when to check next.",
		Example: "  chock report check.yaml\n  chock report check.yaml --format html --output check.html\n  chock report --vehicle \"blue pickup\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("vehicle") {
				return history(cmd, args, vehicle, folder, format, output)
			}
			if folder != "" {
				return usage(errors.New("--folder goes with --vehicle"))
			}
			if err := cobra.ExactArgs(1)(cmd, args); err != nil {
				return usage(err)
			}
			write, ok := reportFormats[format]
			if !ok {
				return usagef("--format %s: want text, markdown, html or json", format)
			}
			rec, err := record.Load(whereKept(args[0]))
			if err != nil {
				return err
			}
			var page bytes.Buffer
			if err := write(&page, rec); err != nil {
				return err
			}
			return putOut(cmd.OutOrStdout(), output, "report", page.Bytes(), 0o600)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "text, markdown, html or json")
	cmd.Flags().StringVar(&output, "output", "", "write it to this file, which must not exist yet")
	completeFormat(cmd, reportFormats)
	cmd.Flags().StringVar(&vehicle, "vehicle", "", "the history of the vehicle of this `NAME`, from all its records")
	cmd.Flags().StringVar(&folder, "folder", "", "where the records are, for --vehicle; else where chock keeps them")
	return cmd
}

// history writes what all records of one vehicle say.
func history(cmd *cobra.Command, args []string, vehicle, folder, format, output string) error {
	write, ok := historyFormats[format]
	switch {
	case !ok:
		return usagef("--format %s: want text, markdown, html or json", format)
	case len(args) > 0:
		return usage(errors.New("--vehicle takes all records of the vehicle; name no record"))
	}
	if folder == "" {
		folder = record.Dir()
	}
	kept, err := record.Folder(folder)
	if err != nil {
		return err
	}
	h, known := report.NewHistory(vehicle, kept)
	if len(h.Checks) == 0 {
		where := "no record in " + folder + " names a vehicle"
		if len(known) > 0 {
			where = "in " + folder + " there are: " + strings.Join(known, ", ")
		}
		return fmt.Errorf("no record of %q; %s. A check with --vehicle FILE takes the name from that file", vehicle, where)
	}
	var page bytes.Buffer
	if err := write(h, &page); err != nil {
		return err
	}
	return putOut(cmd.OutOrStdout(), output, "history", page.Bytes(), 0o600)
}

var historyFormats = map[string]func(*report.History, io.Writer) error{
	"text":     func(h *report.History, w io.Writer) error { return h.Doc().Message(w) },
	"markdown": func(h *report.History, w io.Writer) error { return h.Doc().Markdown(w) },
	"html":     func(h *report.History, w io.Writer) error { return h.Doc().HTML(w) },
	"json":     (*report.History).JSON,
}

var reportFormats = map[string]func(io.Writer, *record.Record) error{
	"text": report.Message, "markdown": report.Markdown, "html": report.HTML, "json": report.JSON,
}

// putOut writes a document to out, or whole to a new file.
func putOut(out io.Writer, path, what string, page []byte, perm fs.FileMode) error {
	if path == "" {
		_, err := out.Write(page)
		return err
	}
	err := record.WriteNew(path, page, perm)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s exists and is left as it is; give another name", path)
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "The %s is in %s\n", what, path)
	return err
}
