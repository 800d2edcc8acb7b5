package record

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func num(f float64) *float64 { return &f }

// drawn makes a record of any words and numbers that a talk could come to.
func drawn(t *rapid.T) *Record {
	text := rapid.OneOf(
		rapid.String(),
		rapid.StringOf(rapid.SampledFrom([]rune("ab #:-'\"\\\n\t\r \u0085\u2028\x1b\x00\ufeff%@`|>é{}[],&*!?~"))),
		rapid.SampledFrom([]string{"", "yes", "null", "~", "012", "1e3", "0x10", "end: chock", "\nend: chock\n", "---", "...", "2026-11-25", "<<", "=", " a", "a ", "a\n", "\n", "a\n\nb\n\n", "  a\nb", "- a", "1:2"}),
	)
	texts := rapid.SliceOfN(text, 0, 3)
	value := rapid.Ptr(rapid.Float64().Filter(func(f float64) bool { return f-f == 0 }), true)
	reading := rapid.Custom(func(t *rapid.T) Reading {
		return Reading{Input: text.Draw(t, "input"), Typed: text.Draw(t, "typed"), Kind: "length", Unit: "thou", Value: value.Draw(t, "value")}
	})
	line := rapid.Custom(func(t *rapid.T) Line {
		return Line{ID: text.Draw(t, "id"), Wheel: text.Draw(t, "wheel"), Answer: text.Draw(t, "answer"), Say: text.Draw(t, "say")}
	})
	lines := rapid.SliceOfN(line, 0, 2)
	answer := rapid.Custom(func(t *rapid.T) Answer {
		return Answer{ID: text.Draw(t, "id"), Asked: text.Draw(t, "asked"), Answer: texts.Draw(t, "answer"), Several: rapid.Bool().Draw(t, "several"),
			Said: texts.Draw(t, "said"), Readings: rapid.SliceOfN(reading, 0, 2).Draw(t, "readings"), Figure: rapid.Ptr(reading, true).Draw(t, "figure"), Origin: text.Draw(t, "origin")}
	})
	finding := rapid.Custom(func(t *rapid.T) Finding {
		return Finding{Cause: text.Draw(t, "cause"), Wheels: texts.Draw(t, "wheels"), For: lines.Draw(t, "for"), Against: lines.Draw(t, "against"),
			Disagree: rapid.Bool().Draw(t, "disagree"), About: rapid.IntRange(0, 99).Draw(t, "about"), From: []Origin{{text.Draw(t, "from"), text.Draw(t, "from say"), text.Draw(t, "from because")}}, Drive: "stop", Do: texts.Draw(t, "do")}
	})
	measurement := rapid.Custom(func(t *rapid.T) Measurement {
		return Measurement{ID: text.Draw(t, "id"), Readings: rapid.SliceOfN(reading, 0, 3).Draw(t, "readings"), Results: []Result{{Key: text.Draw(t, "key"), Value: value.Draw(t, "result")}},
			Verdicts: []Verdict{{Of: text.Draw(t, "of"), Limit: value.Draw(t, "limit")}}, Lines: texts.Draw(t, "lines")}
	})
	return &Record{
		Schema: Schema, Program: "chock 1", Notice: text.Draw(t, "notice"), Started: time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "started"), 0).UTC(),
		Finished: rapid.Bool().Draw(t, "finished"), Vehicle: text.Draw(t, "vehicle"), Units: "us",
		Complaints: []Complaint{{ID: text.Draw(t, "id"), Say: text.Draw(t, "say")}},
		Answers:    rapid.SliceOfN(answer, 0, 3).Draw(t, "answers"),
		Notes:      []Note{{Text: text.Draw(t, "note")}},
		Drive:      "care", Findings: rapid.SliceOfN(finding, 0, 2).Draw(t, "findings"), NotExplained: lines.Draw(t, "not-explained"),
		Measurements: rapid.SliceOfN(measurement, 0, 2).Draw(t, "measurements"), Caution: texts.Draw(t, "caution"), End: "chock",
	}
}

// same compares two records by what they say; an empty list may be nil.
func same(t require.TestingT, want, got *Record) {
	a, err := encode(want)
	require.NoError(t, err)
	b, err := encode(got)
	require.NoError(t, err)
	require.Equal(t, string(a), string(b))
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn(t)
		data, err := encode(r)
		require.NoError(t, err)
		got, err := parse("r.yaml", data)
		require.NoError(t, err, string(data))
		require.Equal(t, flat(r), flat(got), string(data))
		again, err := encode(got)
		require.NoError(t, err)
		require.Equal(t, string(data), string(again))
	})
}

// flat prints a record with its pointers followed, for a comparison that does
// not go through encode.
func flat(r *Record) string {
	var b strings.Builder
	for _, a := range r.Answers {
		fmt.Fprintf(&b, "%q %q %q %q %v %q\n", a.ID, a.Asked, a.Answer, a.Said, a.Several, a.Origin)
		for _, x := range a.Readings {
			b.WriteString(flatReading(&x))
		}
		b.WriteString(flatReading(a.Figure))
	}
	for _, m := range r.Measurements {
		fmt.Fprintf(&b, "%q %q %q %s %s\n", m.ID, m.Lines, m.Results[0].Key, flatNumber(m.Results[0].Value), flatNumber(m.Verdicts[0].Limit))
	}
	for _, f := range r.Findings {
		fmt.Fprintf(&b, "%q %q %q %q %v %q %q\n", f.Cause, f.Wheels, f.For, f.Against, f.Disagree, f.From, f.Do)
	}
	fmt.Fprintf(&b, "%q %q %v %q %q %v %v", r.Notice, r.Vehicle, r.Complaints, r.Notes, r.Caution, r.Started.Unix(), r.Finished)
	return b.String()
}

func flatReading(r *Reading) string {
	if r == nil {
		return "none\n"
	}
	return fmt.Sprintf("%q %q %q %s\n", r.Input, r.Typed, r.Unit, flatNumber(r.Value))
}

func flatNumber(f *float64) string {
	if f == nil {
		return "unknown"
	}
	return fmt.Sprint(*f)
}

// The stored file of schema 1 is read for ever.
func TestSchema1(t *testing.T) {
	path := filepath.Join("testdata", "schema-1.yaml")
	r, err := Load(path)
	require.NoError(t, err)
	assert.Equal(t, "blue pickup", r.Vehicle)
	assert.Equal(t, "care", r.Drive)
	require.Len(t, r.Answers, 3)
	assert.Equal(t, "0 1.6 2 .8", r.Answers[1].Readings[0].Typed)
	assert.Equal(t, "Bought in spring.\nThe seller spoke of \"new rotors\".", r.Notes[0].Text)
	assert.Nil(t, r.Measurements[0].Verdicts[0].Limit)

	// What is written today reads like it.
	data, err := encode(r)
	require.NoError(t, err)
	stored, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(stored), string(data))
}

func TestCutShort(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("testdata", "schema-1.yaml"))
	require.NoError(t, err)
	want, err := parse("r.yaml", whole)
	require.NoError(t, err)
	for n := range whole {
		got, err := parse("r.yaml", whole[:n])
		if err != nil {
			require.Nil(t, got)
			continue
		}
		same(t, want, got)
		require.Equal(t, len(whole)-1, n, "only the last line break may be missing")
	}
	// A record of a whole talk too, whose notes try to look like its end.
	full := long()
	full.Notes = []Note{{Text: "end: chock"}, {Text: "one\nend: chock\n"}, {Text: "\nend: chock"}}
	data, err := encode(full)
	require.NoError(t, err)
	for n := range data {
		if got, err := parse("r.yaml", data[:n]); err == nil {
			same(t, full, got)
			require.Equal(t, len(data)-1, n)
		}
	}
	_, err = parse("r.yaml", whole[:len(whole)/2])
	assert.EqualError(t, err, `r.yaml is cut short: its last line is not "end: chock"; use an earlier copy, or, if nothing is missing, add that line`)
}

func TestRefused(t *testing.T) {
	const head, tail = "schema: 1\nprogram: chock 1\n", "end: chock\n"
	for _, tt := range []struct{ name, file, want string }{
		{"empty", " \n", "r.yaml is empty: it was cut short; use an earlier copy"},
		{"other YAML", "name: shed\nend: chock\n", "r.yaml is not a record of chock; name a file that chock talk wrote"},
		{"other program", "schema: 1\nprogram: ledger 2\nend: chock\n", "r.yaml is not a record of chock; name a file that chock talk wrote"},
		{"binary", "\x7fELF\x00\x01", "r.yaml is not a record of chock; name a file that chock talk wrote"},
		{"newer", "schema: 2\nprogram: chock 9\ncoils: 4\n", "r.yaml was written by a newer chock (record schema 2, this one reads up to 1); install the newer chock to read it"},
		{"no schema that was", "schema: 0\nprogram: chock 9\nend: chock\n", "r.yaml has no record schema that ever was; its first line should read schema: 1"},
		{"more below", head + tail + "drive: go\n", `r.yaml is cut short: its last line is not "end: chock"; use an earlier copy, or, if nothing is missing, add that line`},
		{"end in a text", head + "notice: |\n  end: chock", `r.yaml is cut short: its last line is not "end: chock"; use an earlier copy, or, if nothing is missing, add that line`},
		{"unknown key", head + "colour: blue\n" + tail, `r.yaml:3: "colour" is no key of a record here; was it added by hand?`},
		{"unknown key inside", head + "answers:\n  - id: a\n    colour: blue\n" + tail, `r.yaml:5: "colour" is no key of a record here; was it added by hand?`},
		{"repeated", head + "drive: go\ndrive: stop\n" + tail, `r.yaml:4: "drive" stands at line 3 already; keep one of them`},
		{"alias", head + "advice: &a x\nreason: *a\n" + tail, "r.yaml:3: &a is an anchor; leave it out"},
		{"tag", head + "advice: !!binary eA==\n" + tail, "r.yaml:3: !!binary is a tag; leave it out"},
		{"word for number", head + "measurements:\n  - results:\n      - {key: a, value: wide}\n" + tail, `r.yaml: line 5: "wide" cannot stand there`},
		{"map for list", head + "answers: {a: b}\n" + tail, `r.yaml: line 3: "" cannot stand there`},
		{"bad time", head + "started: soon\n" + tail, `r.yaml:3: "soon" is no time; want one like 2026-11-25T14:05:00Z`},
		{"drive", head + "drive: yes\n" + tail, `r.yaml: drive is "yes"; want one of: go care stop`},
		{"not a number", head + "measurements:\n  - results:\n      - {key: a, value: .nan}\n" + tail, `r.yaml:5: .nan is no number`},
		{"two documents", head + "---\n" + tail, "r.yaml holds several documents; keep one of them"},
		{"broken YAML", head + "notice: [\n" + tail, "r.yaml:3: not readable as YAML: did not find expected ',' or ']'; put that line right in an editor"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, err := parse("r.yaml", []byte(tt.file))
			assert.EqualError(t, err, tt.want)
			assert.Nil(t, r)
		})
	}

	dir := t.TempDir()
	_, err := Load(dir)
	assert.EqualError(t, err, dir+" is a folder; name the file in it")
	_, err = Load(filepath.Join(dir, "none.yaml"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	big := filepath.Join(dir, "big.yaml")
	require.NoError(t, os.WriteFile(big, make([]byte, 5<<20), 0o600))
	_, err = Load(big)
	assert.EqualError(t, err, big+" is over 4 MB, and a file of chock is far smaller; is it the right one?")
}

// Editors end lines in their own way.
func TestOtherLineEnds(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "schema-1.yaml"))
	require.NoError(t, err)
	want, err := parse("r.yaml", data)
	require.NoError(t, err)
	for _, d := range [][]byte{bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")), append(bytes.Clone(data), "\n\n"...), append([]byte("# mine\n"), data...)} {
		got, err := parse("r.yaml", d)
		require.NoError(t, err)
		same(t, want, got)
	}
}

func TestReadable(t *testing.T) {
	data, err := encode(&Record{Program: "chock 1", Notes: []Note{{Text: "first\nsecond: # no comment\x1b[2J"}, {Text: "one\ntwo\n"}, {Text: "bad \xff byte"}}, Measurements: []Measurement{{Results: []Result{{Key: "a", Value: num(0.1)}, {Key: "b", Value: new(nan())}}}}})
	require.NoError(t, err)
	assert.Contains(t, string(data), "- text: |\n      one\n      two\n")
	assert.NotContains(t, string(data), "\x1b", "a control character is written as an escape")
	r, err := parse("r.yaml", data)
	require.NoError(t, err)
	assert.Equal(t, "first\nsecond: # no comment\x1b[2J", r.Notes[0].Text)
	assert.Equal(t, "bad \ufffd byte", r.Notes[2].Text)
	assert.Nil(t, r.Measurements[0].Results[1].Value)
	assert.True(t, strings.HasSuffix(string(data), "\nend: chock\n"))
}

func nan() float64 { zero := 0.0; return zero / zero }

func mode(t *testing.T, path string) os.FileMode {
	info, err := os.Stat(path)
	require.NoError(t, err)
	return info.Mode().Perm()
}

func TestSave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "r.yaml")
	f, err := Create(path)
	require.NoError(t, err)
	assert.NoFileExists(t, path, "nothing is written before the first answer")
	for _, v := range []string{"one", "two", "three"} {
		moved, err := f.Save(&Record{Vehicle: v})
		require.NoError(t, err)
		assert.Empty(t, moved)
		r, err := Load(path)
		require.NoError(t, err)
		assert.Equal(t, v, r.Vehicle)
		assert.Equal(t, os.FileMode(0o600), mode(t, path))
		require.NoError(t, os.Chmod(path, 0o644)) // ends as 0600 whatever it was
	}
	assert.Equal(t, os.FileMode(0o700), mode(t, filepath.Dir(path)))
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	require.NoError(t, err)
	hidden, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	require.NoError(t, err)
	assert.Equal(t, []string{path}, append(left, hidden...), "no temporary file stays")

	_, err = Create(path)
	assert.EqualError(t, err, path+" exists: chock never overwrites a record; give another name, or go on with it by --resume")
}

func TestTwoPrograms(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "r.yaml")
	in := func(name, vehicle string) {
		t.Helper()
		r, err := Load(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, vehicle, r.Vehicle)
	}
	save := func(f *File, vehicle, moved string) {
		t.Helper()
		got, err := f.Save(&Record{Vehicle: vehicle})
		require.NoError(t, err)
		assert.Equal(t, strings.ReplaceAll(moved, "DIR", dir), got)
		if got != "" {
			assert.Equal(t, got, f.Path)
		}
	}
	a, err := Create(path)
	require.NoError(t, err)
	b, err := Create(path) // before a has saved
	require.NoError(t, err)
	save(a, "a1", "")
	save(b, "b1", "DIR/r-2.yaml")
	in("r.yaml", "a1")
	in("r-2.yaml", "b1")

	c, _, err := Open(path)
	require.NoError(t, err)
	save(a, "a2", "")
	save(c, "c1", "DIR/r-3.yaml")
	save(c, "c2", "")
	save(a, "a3", "")
	in("r.yaml", "a3")
	in("r-3.yaml", "c2")

	require.NoError(t, os.Remove(filepath.Join(dir, "r-3.yaml")))
	save(c, "c3", "DIR/r-4.yaml")
	in("r-4.yaml", "c3")

	// A folder, or a link, in its place is no file of ours either.
	require.NoError(t, os.Remove(path))
	require.NoError(t, os.Mkdir(path, 0o700))
	save(a, "a4", "DIR/r-3.yaml")
}

// A link to a record stays a link.
func TestOpenLink(t *testing.T) {
	dir := t.TempDir()
	f, err := Create(filepath.Join(dir, "r.yaml"))
	require.NoError(t, err)
	_, err = f.Save(&Record{Vehicle: "one"})
	require.NoError(t, err)
	link := filepath.Join(dir, "link.yaml")
	require.NoError(t, os.Symlink("r.yaml", link))
	f, _, err = Open(link)
	require.NoError(t, err)
	_, err = f.Save(&Record{Vehicle: "two"})
	require.NoError(t, err)
	to, err := os.Readlink(link)
	require.NoError(t, err)
	assert.Equal(t, "r.yaml", to)
	r, err := Load(link)
	require.NoError(t, err)
	assert.Equal(t, "two", r.Vehicle)
}

func TestCannotWrite(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Log("root writes anywhere: only folders that cannot be are tried")
	} else {
		dir := filepath.Join(t.TempDir(), "closed")
		require.NoError(t, os.Mkdir(dir, 0o500))
		_, err := Create(filepath.Join(dir, "r.yaml"))
		assert.ErrorContains(t, err, "nothing can be written in "+dir)
		assert.ErrorIs(t, err, os.ErrPermission)
	}
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err := Create(filepath.Join(file, "r.yaml"))
	assert.ErrorContains(t, err, "nothing can be written in "+file)

	// The folder goes away, or is closed, during the talk: said, the record kept
	// where it was, and the next save goes through when the folder is back.
	dir := filepath.Join(t.TempDir(), "d")
	f, err := Create(filepath.Join(dir, "r.yaml"))
	require.NoError(t, err)
	_, err = f.Save(&Record{Vehicle: "one"})
	require.NoError(t, err)
	away := dir + "-away"
	require.NoError(t, os.Rename(dir, away))
	require.NoError(t, os.WriteFile(dir, nil, 0o600))
	_, err = f.Save(&Record{Vehicle: "two"})
	require.Error(t, err)
	require.NoError(t, os.Remove(dir))
	require.NoError(t, os.Rename(away, dir))
	moved, err := f.Save(&Record{Vehicle: "two"})
	require.NoError(t, err)
	assert.Empty(t, moved)

	// Too much to keep is said, and the file stays as it was.
	_, err = f.Save(&Record{Vehicle: strings.Repeat("x", limit)})
	assert.ErrorContains(t, err, "the record has grown over 4 MB; shorten the notes")
	r, err := Load(f.Path)
	require.NoError(t, err)
	assert.Equal(t, "two", r.Vehicle)
}

func TestDefaultPath(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_DATA_HOME", home)
	t.Cleanup(xdg.Reload)
	now := time.Date(2026, 11, 25, 14, 5, 0, 0, time.UTC)
	for _, want := range []string{"check-2026-11-25-1405.yaml", "check-2026-11-25-1405-2.yaml", "check-2026-11-25-1405-3.yaml"} {
		path, err := DefaultPath(now)
		require.NoError(t, err)
		assert.Equal(t, filepath.Join(home, "chock", want), path)
		f, err := Create(path)
		require.NoError(t, err)
		_, err = f.Save(&Record{})
		require.NoError(t, err)
	}
}

func FuzzParse(f *testing.F) {
	stored, err := os.ReadFile(filepath.Join("testdata", "schema-1.yaml"))
	require.NoError(f, err)
	f.Add(stored)
	f.Add([]byte("schema: 1\nprogram: chock 1\nend: chock\n"))
	f.Add([]byte("schema: 1\nprogram: chock\nnotes: [{text: &a [*a]}]\nend: chock"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := parse("r.yaml", data)
		if _, err := ParseAnswers("a.yaml", data); err == nil {
			_ = err
		}
		if err != nil {
			require.Nil(t, r)
			return
		}
		// What was taken can be written, and reads the same.
		out, err := encode(r)
		require.NoError(t, err)
		again, err := parse("r.yaml", out)
		require.NoError(t, err, string(out))
		same(t, r, again)
	})
}
