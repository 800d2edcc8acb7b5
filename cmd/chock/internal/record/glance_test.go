package record

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// glimpse leaves of a record what Glance keeps, apart from how Glance does it.
func glimpse(r *Record) *Record {
	out := &Record{Schema: r.Schema, Program: r.Program, Started: r.Started, Saved: r.Saved, Finished: r.Finished, Vehicle: r.Vehicle, Odometer: r.Odometer,
		Units: r.Units, Complaints: r.Complaints, Drive: r.Drive, Advice: r.Advice, Reason: r.Reason, Headline: r.Headline, End: r.End}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, Finding{Cause: f.Cause, Say: f.Say, Standing: f.Standing, Wheels: f.Wheels, Drive: f.Drive})
	}
	for _, m := range r.Measurements {
		out.Measurements = append(out.Measurements, Measurement{ID: m.ID, Say: m.Say, Wheel: m.Wheel, Calculation: m.Calculation, Verdicts: m.Verdicts})
	}
	return out
}

// What a glance keeps of any record is what the record says, and it really
// leaves out the rest.
func TestGlance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn(t)
		r.Odometer = &Reading{Typed: "1 mi", Kind: "length", Unit: "mi", Value: num(1)}
		data, err := encode(r)
		require.NoError(t, err)
		whole, err := parse("r.yaml", data)
		require.NoError(t, err)
		short, ok := prune(data)
		require.True(t, ok, "%s", data)
		got, err := parse("r.yaml", short)
		require.NoError(t, err, "%s\nof\n%s", short, data)
		same(t, glimpse(whole), got)
		require.NotContains(t, string(short), "\nanswers:")
	})
}

// Every key that a record can have is one that prune knows for a key, so that
// no whole talk is read the slow way.
func TestGlanceKeys(t *testing.T) {
	var look func(of reflect.Type)
	seen := map[reflect.Type]bool{}
	look = func(of reflect.Type) {
		for of.Kind() == reflect.Slice || of.Kind() == reflect.Pointer {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || of == reflect.TypeFor[time.Time]() || seen[of] {
			return
		}
		seen[of] = true
		for key, field := range keysOf(of) {
			assert.True(t, wordy([]byte(key)), key)
			look(field)
		}
	}
	look(reflect.TypeFor[Record]())
	require.Greater(t, len(seen), 8)
	data, err := encode(long())
	require.NoError(t, err)
	short, ok := prune(data)
	require.True(t, ok)
	assert.Less(t, len(short), len(data)/3)
}

// A file that somebody wrote by hand in another shape is read as a whole.
func TestGlanceByHand(t *testing.T) {
	stored, err := os.ReadFile(filepath.Join("testdata", "schema-1.yaml"))
	require.NoError(t, err)
	dir := t.TempDir()
	for name, data := range map[string][]byte{
		"comment":  append([]byte("# mine\n"), stored...),
		"flow":     []byte("schema: 1\nprogram: chock 1\nvehicle: blue pickup\nfindings: [{cause: a, say: b, standing: found, drive: stop}]\nend: chock\n"),
		"lists":    []byte("schema: 1\nprogram: chock 1\nvehicle: blue pickup\nfindings:\n- cause: a\n  say: b\n  standing: found\nend: chock\n"),
		"entries":  []byte("schema: 1\nprogram: chock 1\nvehicle: blue pickup\nfindings:\n  - {cause: a, say: b}\nend: chock\n"),
		"crlf":     bytes.ReplaceAll(stored, []byte("\n"), []byte("\r\n")),
		"no break": bytes.TrimRight(stored, "\n"),
	} {
		path := filepath.Join(dir, name+".yaml")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		whole, err := Load(path)
		require.NoError(t, err, name)
		got, err := Glance(path)
		require.NoError(t, err, name)
		assert.Equal(t, "blue pickup", got.Vehicle, name)
		same(t, glimpse(whole), glimpse(got))
	}
	cut := filepath.Join(dir, "cut.yaml")
	require.NoError(t, os.WriteFile(cut, stored[:len(stored)/2], 0o600))
	_, err = Glance(cut)
	assert.ErrorContains(t, err, "is cut short")
}

func TestFolder(t *testing.T) {
	dir := t.TempDir()
	f, err := Create(filepath.Join(dir, "a.yaml"))
	require.NoError(t, err)
	_, err = f.Save(&Record{Vehicle: "one"})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.yaml"), []byte("name: shed\n"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), nil, 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "c.yaml"), 0o700))
	got, err := Folder(dir)
	require.NoError(t, err)
	require.Len(t, got, 2)
	assert.Equal(t, "one", got[0].Record.Vehicle)
	assert.NoError(t, got[0].Err)
	assert.Nil(t, got[1].Record)
	assert.ErrorContains(t, got[1].Err, "b.yaml is not a record of chock")

	_, err = Folder(filepath.Join(dir, "none"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	t.Setenv("XDG_DATA_HOME", filepath.Join(dir, "home"))
	got, err = Folder(Dir())
	require.NoError(t, err)
	assert.Empty(t, got, "nothing was kept yet")
}

// long is a record as full as those of whole talks, which take a tenth of a
// megabyte.
func long() *Record {
	line := Line{ID: "a-question-of-some-length", Wheel: "front-left", Answer: "an-answer", Say: "Left front, a question of some length: what somebody saw there", How: "seen"}
	r := &Record{Program: "chock 1", Started: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC), Finished: true, Vehicle: "blue pickup", Drive: "care",
		Complaints: []Complaint{{ID: "pulsation", Say: "the pedal pulses"}}}
	for i := range 100 {
		r.Answers = append(r.Answers, Answer{ID: line.ID, Wheel: line.Wheel, Asked: "On the ground, engine off.\nWhat do you find behind this wheel, on the inside of the tyre and below the plate?", Answer: []string{"an-answer"}, Said: []string{"what somebody saw there"}})
		if i < 45 {
			r.Findings = append(r.Findings, Finding{Cause: fmt.Sprint("cause-", i), Say: "A part of the brakes is not as it should be", Part: "front rotors", Standing: "unlikely", About: i, Drive: "care",
				Against: []Line{line, line, line}, Do: []string{"Clean both faces of the hub and read again.", "Leave it standing until then."}, Caution: "Let it cool for an hour first.", Verify: "Have a qualified technician verify the reading.", Mark: "published", Source: "Brake handbook, section 2 (1999)"})
		}
		if i < 12 {
			m := Measurement{ID: "pads-measured", Say: "Pads measured", Wheel: "front-left", Calculation: "lining-wear", Outcomes: []string{"lining-enough"},
				Verdicts: []Verdict{{Of: "lining", Verdict: "within", Value: num(9), Limit: num(1.5), Doubt: num(0.8), Unit: "mm", Mark: "published", Source: "Brake handbook, section 2 (1999)"}}}
			for range 8 {
				m.Readings = append(m.Readings, Reading{Input: "inner", Typed: "9.01 mm", Kind: "length", Unit: "mm", Value: num(9.01)})
				m.Results = append(m.Results, Result{Key: "thinnest_mm", Value: num(9)}, Result{Key: "pair_difference_mm", Value: num(0.5)})
			}
			r.Measurements = append(r.Measurements, m)
		}
	}
	return r
}

// A folder of a thousand records of whole talks.
func BenchmarkFolder(b *testing.B) {
	data, err := encode(long())
	require.NoError(b, err)
	b.Logf("%d bytes each", len(data))
	dir := b.TempDir()
	for i := range 1000 {
		require.NoError(b, os.WriteFile(filepath.Join(dir, fmt.Sprintf("check-%04d.yaml", i)), data, 0o600))
	}
	b.SetBytes(int64(1000 * len(data)))
	for b.Loop() {
		got, err := Folder(dir)
		require.NoError(b, err)
		require.Len(b, got, 1000)
		require.NoError(b, got[0].Err)
	}
}
