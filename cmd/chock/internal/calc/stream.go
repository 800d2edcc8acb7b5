package calc

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"
	"unicode/utf8"

	"chock/brakes/unit"
)

// longestRow bounds one line of a file, so that no file is too large.
const longestRow = 64 << 10

// A Streamer works out one command for each row of a CSV file. Its columns are
// id, unit (of the numbers without one) and the inputs of the command, with an
// underscore for a hyphen; the readings of one cell are parted by spaces.
type Streamer struct {
	Calcs []Calculation
	Given map[string][]unit.Any // what holds where a row says nothing
	Unit  string                // of numbers without one, where the row names none
	Bad   func(line int, id string, err error)
	Seen  func(rows int) // now and then, for whoever waits

	columns []column
	row     inputs // of the line at hand, and what was given for all
	line    int
	fields  []string
	out     []byte
}

// A column is one of a file: an input, or one of the two names.
type column struct {
	name  string
	input Input      // its Kind is "" for id and unit
	room  []unit.Any // of its readings, row after row
}

// A Tally counts the rows of a stream.
type Tally struct {
	Rows, Bad int
	Limits    int // that were given
	Missed    int // of which not met, or too close to call
}

// Streams reports whether a command can be worked out row by row.
func Streams(calcs []Calculation) bool {
	return !slices.ContainsFunc(calcs, func(c Calculation) bool { return c.numbers == nil })
}

// Columns are those that a file may have.
func Columns(calcs []Calculation) []string {
	names := []string{"id", "unit"}
	for _, c := range calcs {
		for _, in := range c.Inputs {
			if n := columnName(in); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

func columnName(in Input) string { return strings.ReplaceAll(in.Name, "-", "_") }

// A HeaderError says why the first line of a file is no header.
type HeaderError struct{ Err error }

func (e *HeaderError) Error() string { return "line 1: " + e.Err.Error() }
func (e *HeaderError) Unwrap() error { return e.Err }

// Run reads a file and writes one JSON line for each of its rows. A row that
// cannot be used is reported, has a line that says why, and the rest is done.
// Memory does not grow with the file.
func (s *Streamer) Run(r io.Reader, w io.Writer) (Tally, error) {
	// What a row leaves behind is small and dies at once: collected four times
	// as seldom, it costs a tenth less time, and some megabytes.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	in := bufio.NewReaderSize(r, longestRow)
	out := bufio.NewWriterSize(w, longestRow)
	feed := &oneLine{}
	rows := csv.NewReader(feed)
	rows.ReuseRecord = true
	rows.FieldsPerRecord = -1
	s.row = inputs{}
	var t Tally
	for {
		text, long, err := readRow(in)
		if err != nil {
			if errors.Is(err, io.EOF) {
				err = nil
			}
			if err == nil && s.columns == nil {
				err = &HeaderError{errors.New("the file is empty")}
			}
			return t, errors.Join(err, out.Flush())
		}
		s.line++
		if s.columns == nil {
			if err := s.header(text, long, rows); err != nil {
				return t, &HeaderError{err}
			}
			feed.text = text
			if s.fields, err = rows.Read(); err != nil {
				return t, &HeaderError{err}
			}
			if err := s.readHeader(); err != nil {
				return t, &HeaderError{err}
			}
			continue
		}
		if !long && len(bytes.TrimSpace(text)) == 0 {
			continue
		}
		t.Rows++
		feed.text = text
		if err := s.work(rows, long, &t); err != nil {
			t.Bad++
			id := s.id()
			if s.Bad != nil {
				s.Bad(s.line, id, err)
			}
			s.out = append(s.head(id), `,"error":`...)
			s.out = append(appendText(s.out, err.Error()), '}')
		}
		if _, err := out.Write(append(s.out, '\n')); err != nil {
			return t, err
		}
		if in.Buffered() == 0 { // whoever feeds us waits for an answer
			if err := out.Flush(); err != nil {
				return t, err
			}
		}
		if s.Seen != nil {
			s.Seen(t.Rows)
		}
	}
}

// readRow gives the next line, cut off where it is too long to be one.
func readRow(in *bufio.Reader) (text []byte, long bool, err error) {
	text, err = in.ReadSlice('\n')
	for errors.Is(err, bufio.ErrBufferFull) {
		long = true
		_, err = in.ReadSlice('\n')
	}
	if errors.Is(err, io.EOF) && (len(text) > 0 || long) {
		err = nil // the last line need not end
	}
	return text, long, err
}

// oneLine feeds the CSV reader one line and then an end, so that an open quote
// swallows no more than its own line.
type oneLine struct{ text []byte }

func (o *oneLine) Read(p []byte) (int, error) {
	if len(o.text) == 0 {
		return 0, io.EOF
	}
	n := copy(p, o.text)
	o.text = o.text[n:]
	return n, nil
}

// header looks at the first line before it is read as CSV.
func (s *Streamer) header(text []byte, long bool, rows *csv.Reader) error {
	switch {
	case long:
		return fmt.Errorf("longer than %d kB: want a header, such as id,unit,thickness,discard", longestRow>>10)
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")), bytes.IndexByte(text, 0) >= 0:
		return errors.New("not plain text: save the file as CSV in UTF-8")
	case !utf8.Valid(text):
		return errors.New("not UTF-8: save the file as CSV in UTF-8")
	}
	if bytes.IndexByte(text, ',') < 0 && bytes.IndexByte(text, ';') >= 0 {
		rows.Comma = ';' // as spreadsheets write it where the comma is a decimal mark
	}
	return nil
}

func (s *Streamer) readHeader() error {
	inputs := map[string]Input{}
	for _, c := range s.Calcs {
		for _, in := range c.Inputs {
			inputs[columnName(in)] = in
		}
	}
	var known []column
	for i, f := range s.fields {
		if i == 0 {
			f = strings.TrimPrefix(f, "\ufeff")
		}
		name := strings.ToLower(strings.TrimSpace(f))
		in, ok := inputs[name]
		switch {
		case !ok && name != "id" && name != "unit":
			return fmt.Errorf("%q is no column; want some of %s", f, strings.Join(Columns(s.Calcs), ", "))
		case slices.ContainsFunc(known, func(c column) bool { return c.name == name }):
			return fmt.Errorf("%s stands there twice", name)
		}
		known = append(known, column{name: name, input: in})
	}
	if !slices.ContainsFunc(known, func(c column) bool { return c.input.List && !c.input.Optional }) {
		return fmt.Errorf("no column of readings; want some of %s", strings.Join(Columns(s.Calcs), ", "))
	}
	s.columns = known
	return nil
}

func (s *Streamer) cell(name string) string {
	for i, c := range s.columns {
		if c.name == name && i < len(s.fields) {
			return strings.TrimSpace(s.fields[i])
		}
	}
	return ""
}

func (s *Streamer) id() string { return s.cell("id") }

// work reads one row and puts its line into s.out.
func (s *Streamer) work(rows *csv.Reader, long bool, t *Tally) (err error) {
	s.fields = s.fields[:0]
	if long {
		return fmt.Errorf("longer than %d kB", longestRow>>10)
	}
	fields, err := rows.Read()
	if err != nil {
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			err = fmt.Errorf("column %d: %w", bad.Column, bad.Err)
		}
		return err
	}
	s.fields = fields
	if len(fields) != len(s.columns) {
		return fmt.Errorf("%d cells, and the header has %d", len(fields), len(s.columns))
	}
	if err := s.take(); err != nil {
		return err
	}
	id := s.id()
	s.out = append(s.head(id), `,"results":{`...)
	var ran [4]Result // more than any command has
	results := ran[:0]
	first := true
	done := false
	for _, c := range s.Calcs {
		var values Values
		if s.reads(c) {
			r, err := c.numbers(s.row)
			if err != nil {
				return err
			}
			values, done = r.Values, true
			results = append(results, r)
		} else {
			values = Unknown(c.Keys...)
		}
		for i := range values {
			if !first {
				s.out = append(s.out, ',')
			}
			first = false
			s.out = append(appendText(s.out, values[i].Key), ':')
			s.out = values[i].appendJSON(s.out)
		}
	}
	if !done {
		return errors.New("no readings")
	}
	s.out = append(s.out, `},"outcomes":[`...)
	s.each(results, func(r Result) int { return len(r.Outcomes) }, func(r Result, i int) { s.out = appendText(s.out, r.Outcomes[i]) })
	s.out = append(s.out, `],"verdicts":[`...)
	s.each(results, func(r Result) int { return len(r.Verdicts) }, func(r Result, i int) { s.out = r.Verdicts[i].appendJSON(s.out) })
	s.out = append(s.out, `],"warnings":[`...)
	s.each(results, func(r Result) int { return len(r.Warnings) }, func(r Result, i int) { s.out = appendText(s.out, r.Warnings[i]) })
	s.out = append(s.out, "]}"...)
	for _, r := range results {
		for _, v := range r.Verdicts {
			if v.Asked {
				t.Limits++
				if v.Verdict != unit.Within {
					t.Missed++
				}
			}
		}
	}
	return nil
}

// each writes the items of all results with commas between.
func (s *Streamer) each(results []Result, n func(Result) int, write func(Result, int)) {
	first := true
	for _, r := range results {
		for i := range n(r) {
			if !first {
				s.out = append(s.out, ',')
			}
			first = false
			write(r, i)
		}
	}
}

// head begins the line of the row at hand.
func (s *Streamer) head(id string) []byte {
	b := append(s.out[:0], `{"schema_version":1,"line":`...)
	b = appendNumber(b, float64(s.line))
	b = append(b, `,"id":`...)
	return appendKnown(b, id)
}

// take reads the cells of the row at hand; an empty one says nothing.
func (s *Streamer) take() error {
	clear(s.row)
	for name, v := range s.Given {
		s.row[name] = v
	}
	unitName := s.Unit
	if u := s.cell("unit"); u != "" {
		if !unit.Known(unit.KindLength, u) {
			return fmt.Errorf("unit: %q: want one of %s", u, strings.Join(unit.Units(unit.KindLength), ", "))
		}
		unitName = u
	}
	for i, c := range s.columns {
		text := strings.TrimSpace(s.fields[i])
		if text == "" || c.input.Kind == "" {
			continue
		}
		def := c.input.Default
		if c.input.Typed {
			def = unitName
		}
		values, ok := unit.AppendPlain(c.room[:0], c.input.Kind, text, def)
		if s.columns[i].room = values; !ok || !c.input.List && len(values) > 1 {
			var err error
			if values, err = c.input.Read(text, def); err != nil {
				return fmt.Errorf("%s: %w", c.name, err)
			}
		}
		s.row[c.input.Name] = values
	}
	return nil
}

// reads reports whether the row at hand has what a calculation needs.
func (s *Streamer) reads(c Calculation) bool {
	for i := range c.Inputs {
		if in := &c.Inputs[i]; !in.Optional && s.row[in.Name] == nil {
			return false
		}
	}
	return true
}
