package report

import (
	"cmp"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// List prints the records of a folder, the latest first.
func List(scr *ask.Screen, folder string, kept []record.Kept) error {
	kept = latestFirst(kept)
	if len(kept) == 0 {
		scr.Print(ask.Plain, "No records in "+folder)
	}
	for _, k := range kept {
		if k.Record == nil {
			scr.Item(ask.Care, filepath.Base(k.Path)+"  ", "cannot be read: "+strings.TrimPrefix(k.Err.Error(), k.Path+" "))
			continue
		}
		scr.Print(ask.Strong, filepath.Base(k.Path))
		scr.Item(driveStyle(k.Record.Drive), "  ", inShort(k.Record))
	}
	if len(kept) > 0 {
		scr.Print(ask.Dim, "In "+folder)
	}
	return scr.Err()
}

// InALine names a record that is about to be deleted, as far as it can be read.
func InALine(path string) string {
	r, err := record.Glance(path)
	if err != nil {
		return path + ": damaged"
	}
	return path + ": " + inShort(r)
}

// inShort is when, what, why and the advice.
func inShort(r *record.Record) string {
	words := []string{"no date"}
	if !r.Started.IsZero() {
		words = []string{r.Started.Local().Format("2 January 2006, 15:04")}
	}
	words = append(words, cmp.Or(r.Vehicle, "no vehicle named"))
	var said []string
	for _, c := range r.Complaints {
		if !c.Opened {
			said = append(said, plainID(c.ID))
		}
	}
	words = append(words, cmp.Or(strings.Join(said, ", "), "no complaint"), adviceWords(r))
	if !r.Finished {
		words = append(words, "not finished")
	}
	return strings.Join(words, "; ") + "."
}

func latestFirst(kept []record.Kept) []record.Kept {
	out := slices.Clone(kept)
	slices.SortStableFunc(out, func(a, b record.Kept) int {
		switch {
		case a.Record == nil && b.Record == nil:
			return 0
		case a.Record == nil: // what cannot be read stands at the end
			return 1
		case b.Record == nil:
			return -1
		}
		return b.Record.Started.Compare(a.Record.Started)
	})
	return out
}

type jsonList struct {
	SchemaVersion int        `json:"schema_version"`
	Folder        string     `json:"folder"`
	Records       []jsonKept `json:"records"`
	LeftOut       []jsonLeft `json:"left_out"`
}

// ListJSON writes the same as docs/json.md has it.
func ListJSON(w io.Writer, folder string, kept []record.Kept) error {
	d := jsonList{SchemaVersion: jsonSchema, Folder: folder, Records: []jsonKept{}}
	var left []record.Kept
	for _, k := range latestFirst(kept) {
		if k.Record == nil {
			left = append(left, k)
			continue
		}
		d.Records = append(d.Records, keptJSON(k.Path, k.Record))
	}
	d.LeftOut = leftJSON(left)
	return writeJSON(w, d)
}
