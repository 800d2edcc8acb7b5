package record

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
)

// Glance reads of the record at path what a list and a history need: whose it
// is, when, what was complained of, what was found and measured. The answers
// and the words around a finding are left out, which is most of a file; what
// is wrong in there is not noticed.
func Glance(path string) (*Record, error) {
	data, err := read(path, limit)
	if err != nil {
		return nil, err
	}
	if short, ok := prune(data); ok {
		if r, err := parse(path, short); err == nil {
			return r, nil
		}
	}
	return parse(path, data) // also to say what is wrong, and where
}

// glanced are the keys that Glance keeps, by the key that they stand under.
var glanced = map[string][]string{
	"": {"schema", "program", "started", "saved", "finished", "vehicle", "odometer", "units", "complaints", "drive", "advice", "reason",
		"headline", "findings", "measurements", "end"},
	"findings":     {"cause", "say", "standing", "wheels", "drive"},
	"measurements": {"id", "say", "wheel", "calculation", "verdicts"},
}

// prune leaves out of a file the keys that are not glanced at, with all that
// stands under them. It works on lines, as encode writes them; ok is false
// where a file looks otherwise.
func prune(data []byte) (short []byte, ok bool) {
	short = make([]byte, 0, len(data)/4)
	part := ""     // the key at the margin under which we are
	skip := -1     // what is indented more than this is left out
	first := false // the entry of a list has begun, and nothing of it is kept yet
	for line := range bytes.SplitAfterSeq(data, []byte("\n")) {
		text := bytes.TrimLeft(line, " ")
		indent := len(line) - len(text)
		if len(bytes.TrimSpace(text)) == 0 { // a blank line, perhaps in a text
			if skip < 0 {
				short = append(short, line...)
			}
			continue
		}
		if skip >= 0 && indent > skip {
			continue
		}
		skip = -1
		keep := glanced[part]
		switch {
		case indent == 0:
			key, _, found := bytes.Cut(text, []byte(":"))
			if !found || !wordy(key) {
				return nil, false
			}
			part = string(key)
			if !slices.Contains(glanced[""], part) {
				skip = 0
				continue
			}
		case keep == nil || indent > 4:
			// all of it is kept
		case indent == 2 && bytes.HasPrefix(text, []byte("- ")), indent == 4:
			entry := bytes.TrimPrefix(text, []byte("- "))
			if indent == 2 {
				first = true
			}
			key, _, found := bytes.Cut(entry, []byte(":"))
			if !found || !wordy(key) {
				return nil, false
			}
			if !slices.Contains(keep, string(key)) {
				skip = 4
				continue
			}
			// The first key that is kept begins the entry.
			head := "    "
			if first {
				head, first = "  - ", false
			}
			short = append(append(short, head...), entry...)
			continue
		default:
			return nil, false
		}
		short = append(short, line...)
	}
	return short, true
}

// wordy tells whether a key is one of small letters, digits and hyphens, as all of
// ours are.
func wordy(key []byte) bool {
	for _, c := range key {
		if c != '-' && (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return len(key) > 0
}

// A Kept is a file of a folder of records: its record, or why it has none.
type Kept struct {
	Path   string
	Record *Record
	Err    error
}

// Folder glances at every record of a folder, by the names of the files. A
// folder that does not exist has none.
func Folder(dir string) ([]Kept, error) {
	entries, err := os.ReadDir(dir)
	if os.IsNotExist(err) && dir == Dir() {
		return nil, nil // nothing was kept yet
	}
	if err != nil {
		return nil, err
	}
	var out []Kept
	for _, e := range entries {
		if ext := strings.ToLower(filepath.Ext(e.Name())); !e.IsDir() && (ext == ".yaml" || ext == ".yml") {
			out = append(out, Kept{Path: filepath.Join(dir, e.Name())})
		}
	}
	next := make(chan *Kept)
	var readers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		readers.Go(func() {
			for k := range next {
				k.Record, k.Err = Glance(k.Path)
			}
		})
	}
	for i := range out {
		next <- &out[i]
	}
	close(next)
	readers.Wait()
	return out, nil
}

// Ours tells whether the file at path is a record of chock by its first lines,
// also when the rest of it is damaged or cut off.
func Ours(path string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, 1<<16))
	if err != nil {
		return false, err
	}
	_, ours := header(data)
	return ours, nil
}
