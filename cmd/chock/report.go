package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
)

// newReport makes `chock report`.
func newReport() *cobra.Command {
	var format, output string
	cmd := &cobra.Command{
		Use:   "report RECORD",
		Short: "A saved record to read, to print or to hand over",
		Long: "A saved record to read, to print or to hand over: an owner's record, not a certificate.\n" +
			"As text it pastes cleanly into a message.",
		Example: "  chock report check.yaml\n  chock report check.yaml --format markdown --output check.md",
		Args:    takes(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			write, ok := reportFormats[format]
			if !ok {
				return usagef("--format %s: want text, markdown or json", format)
			}
			rec, err := record.Load(args[0])
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
	cmd.Flags().StringVar(&format, "format", "text", "text, markdown or json")
	cmd.Flags().StringVar(&output, "output", "", "write it to this file, which must not exist yet")
	return cmd
}

var reportFormats = map[string]func(io.Writer, *record.Record) error{
	"text": report.Message, "markdown": report.Markdown, "json": report.JSON,
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
