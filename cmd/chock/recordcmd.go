package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
)

// newRecord makes `chock record`.
func newRecord() *cobra.Command {
	cmd := &cobra.Command{
		Use: "record", Short: "The saved records: list them, delete some", Args: takes(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error { return usage(errors.New("want list or delete")) },
	}
	cmd.AddCommand(newRecordList(), newRecordDelete())
	return cmd
}

func newRecordList() *cobra.Command {
	var folder string
	var asJSON bool
	cmd := &cobra.Command{
		Use: "list", Short: "The saved records, the latest first", Args: takes(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if folder == "" {
				folder = record.Dir()
			}
			kept, err := record.Folder(folder)
			if err != nil {
				return err
			}
			if asJSON {
				return report.ListJSON(cmd.OutOrStdout(), folder, kept)
			}
			scr, err := ask.NewScreen(cmd.OutOrStdout(), "auto")
			if err != nil {
				return err
			}
			return report.List(scr, folder, kept)
		},
	}
	cmd.Flags().StringVar(&folder, "folder", "", "another folder than the one where chock keeps them")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return cmd
}

func newRecordDelete() *cobra.Command {
	var yes bool
	cmd := &cobra.Command{
		Use:   "delete FILE...",
		Short: "Delete records, after asking",
		Long: "Delete records, after asking. A name without a folder that is not here is looked for where\n" +
			"chock keeps the records. What is no record of chock is left alone.",
		Args: takes(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			scr, err := ask.NewScreen(cmd.OutOrStdout(), "auto")
			if err != nil {
				return err
			}
			prompt := scr
			if !ask.IsTerminal(cmd.OutOrStdout()) {
				if prompt, err = ask.NewScreen(cmd.ErrOrStderr(), "auto"); err != nil {
					return err
				}
			}
			return deleteRecords(cmd.InOrStdin(), scr, prompt, args, yes)
		},
	}
	cmd.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return cmd
}

// deleteRecords looks at all of the files first, so that one wrong name
// deletes nothing.
func deleteRecords(in io.Reader, scr, prompt *ask.Screen, args []string, yes bool) error {
	var paths []string
	for _, arg := range args {
		path := whereKept(arg)
		info, err := os.Lstat(path)
		switch {
		case err != nil:
			return fmt.Errorf("%w; nothing was deleted", err)
		case !info.Mode().IsRegular():
			return fmt.Errorf("%s is no plain file; nothing was deleted", path)
		}
		if ours, err := record.Ours(path); err != nil || !ours {
			return fmt.Errorf("%s is not a record of chock; nothing was deleted", path)
		}
		if slices.Contains(paths, path) {
			continue
		}
		paths = append(paths, path)
		if !yes {
			prompt.Print(ask.Plain, report.InALine(path))
		}
	}
	if !yes {
		what := "this record"
		if len(paths) > 1 {
			what = fmt.Sprintf("these %d records", len(paths))
		}
		prompt.Print(ask.Strong, "Delete "+what+"? It cannot be taken back. Type yes to delete, no to keep.")
		if err := prompt.Err(); err != nil {
			return err
		}
		answer, err := bufio.NewReader(in).ReadString('\n')
		if err != nil && answer == "" {
			return errors.New("the input ended before the question was answered; nothing was deleted")
		}
		if strings.ToLower(strings.TrimSpace(answer)) != "yes" {
			scr.Print(ask.Plain, "Kept.")
			return scr.Err()
		}
	}
	for _, path := range paths {
		if err := os.Remove(path); err != nil {
			return err
		}
		scr.Print(ask.Plain, "Deleted "+path)
	}
	return scr.Err()
}

// whereKept finds a name that stands in the records' folder and not here.
func whereKept(name string) string {
	if _, err := os.Lstat(name); err != nil && filepath.Base(name) == name {
		if kept := filepath.Join(record.Dir(), name); exists(kept) {
			return kept
		}
	}
	return name
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
