package calc

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// Numbers in JSON are those of the library, to nine digits.
func TestNumbersAreTheLibrarys(t *testing.T) {
	want := func(f float64) string {
		g, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 9, 64), 64)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(g + 0)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for _, f := range []float64{0, math.Copysign(0, -1), 1, -1, 0.132, 0.13199999999999998, 1e-6, 9.999999999e-7, 1e-7, 1.5e-9, -2e-12, 1e-13, 1e-14, 123456789, 1234567894,
		999999999.6, 99999999.95, 0.5, 1.0000000005, 12345678.25, 123456788.5, 1e20, 9.9999999999e20, 1e21, 1.25e25, math.MaxFloat64, 1e22, 1e-300, 1234567.885, 0.000012345678951} {
		if got := string(appendNumber(nil, f)); got != want(f) {
			t.Errorf("%g is written %s, want %s", f, got, want(f))
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		f := rapid.Float64().Draw(rt, "f")
		if rapid.Bool().Draw(rt, "of a garage") {
			f = math.Round(rapid.Float64Range(-1e6, 1e6).Draw(rt, "g")*1e4) / math.Pow10(rapid.IntRange(0, 8).Draw(rt, "places"))
		}
		if math.IsNaN(f) || math.IsInf(f, 0) || math.Abs(f) < 1e-300 { // the smallest have fewer digits than nine
			return
		}
		if got := string(appendNumber(nil, f)); got != want(f) {
			rt.Fatalf("%g is written %s, want %s", f, got, want(f))
		}
	})
	if string(appendNumber(nil, math.NaN())) != "null" || string(appendNumber(nil, math.Inf(-1))) != "null" {
		t.Error("what is not known is null")
	}
}

// Text in JSON is that of the library.
func TestTextIsTheLibrarys(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.String().Draw(rt, "s")
		var back string
		if err := json.Unmarshal(appendText(nil, s), &back); err != nil || back != strings.ToValidUTF8(s, "\ufffd") {
			rt.Fatalf("%q came back as %q, %v", s, back, err)
		}
	})
}

// A row of a file says what the flags say of it.
func TestStreamIsTheCommand(t *testing.T) {
	text := manyRotors(200) + "\n" +
		"thou,,,,,,,\n" + // no such thing: its line says so
		`x,thou,1120 1121 1120.5 - 1119 1120 1121 1120,0 1 2 3 2 1 0 -1,"1.1 in",,,` + "\n" +
		"y,in,1.12 1.121 1.12 1.119,,,,,\n" +
		"z,mm,,0 0.01 0.02 0.01,,,,\n"
	var out strings.Builder
	var bad []string
	s := Streamer{Calcs: commandOf("rotor"), Bad: func(line int, id string, err error) { bad = append(bad, fmt.Sprint(line, id, err)) }}
	tally, err := s.Run(strings.NewReader(text), &out)
	if err != nil || tally.Rows != 204 || tally.Bad != 1 || len(bad) != 1 {
		t.Fatalf("%+v, %v, %q", tally, err, bad)
	}
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	rows := strings.Split(text, "\n")
	if len(lines) != 204 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, line := range lines {
		var doc struct {
			Line     int
			ID       string
			Results  json.RawMessage
			Outcomes []string
			Verdicts json.RawMessage
			Warnings []string
			Error    string
		}
		if err := json.Unmarshal([]byte(line), &doc); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if doc.Error != "" {
			continue
		}
		cells, err := csv.NewReader(strings.NewReader(rows[doc.Line-1])).Read()
		if err != nil {
			t.Fatal(err)
		}
		given := map[string][]unit.Any{}
		for i, name := range strings.Split(rows[0], ",") {
			if i > 1 && cells[i] != "" {
				for _, c := range s.Calcs {
					if in, ok := c.Input(strings.ReplaceAll(name, "_", "-")); ok {
						if given[in.Name], err = in.Read(cells[i], cells[1]); err != nil {
							t.Fatal(err)
						}
					}
				}
			}
		}
		var values Values
		var verdicts []Verdict
		var outcomes, warnings []string
		for _, c := range s.Calcs {
			in := map[string][]unit.Any{}
			whole := true
			for _, i := range c.Inputs {
				if v, ok := given[i.Name]; ok {
					in[i.Name] = v
				} else if !i.Optional {
					whole = false
				}
			}
			if !whole {
				values = append(values, Unknown(c.Keys...)...)
				continue
			}
			r, err := c.Run(in)
			if err != nil {
				t.Fatal(err)
			}
			values, verdicts = append(values, r.Values...), append(verdicts, r.Verdicts...)
			outcomes, warnings = append(outcomes, r.Outcomes...), append(warnings, r.Warnings...)
		}
		same := func(what string, got json.RawMessage, want any) {
			text, err := json.Marshal(want)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != string(text) {
				t.Fatalf("line %d: %s are\n%s\nthe command has\n%s", doc.Line, what, got, text)
			}
		}
		same("results", doc.Results, values)
		same("verdicts", doc.Verdicts, verdicts)
		if !slices.Equal(doc.Outcomes, outcomes) || !slices.Equal(doc.Warnings, warnings) {
			t.Fatalf("line %d: %q %q, the command has %q %q", doc.Line, doc.Outcomes, doc.Warnings, outcomes, warnings)
		}
	}
}

// What is wrong with a row or a file, and what is done about it.
func TestStreamRefuses(t *testing.T) {
	const head = "id,unit,thickness,discard\n"
	const good = "good,mm,25.9 25.9 25.9 25.9,24.4\n"
	for _, tt := range []struct{ name, file, want string }{
		{"a reading that is none", head + "a,mm,25.9 x 25.9 25.9,24.4\n" + good, "2 a thickness: "},
		{"too few readings", head + "a,mm,25.9 25.9,24.4\n" + good, "2 a thickness: number of readings is 2, want 4 or more"},
		{"no unit", head + "a,,25.9 25.9 25.9 25.9,24.4\n" + good, "which unit"},
		{"a unit that is none", head + "a,furlong,25.9,24.4\n" + good, `unit: "furlong": want one of mm`},
		{"NaN", head + "a,mm,NaN 1 1 1,24.4\n" + good, "thickness"},
		{"a limit that is none", head + "a,mm,25.9 25.9 25.9 25.9,0\n" + good, "discard: 0.000 mm (0.0 thou) is no limit"},
		{"too few cells", head + "a,mm\n" + good, "2 cells, and the header has 4"},
		{"an open quote", head + `a,mm,"25.9 25.9` + "\n" + good, "column"},
		{"no readings", head + "a,mm,,24.4\n" + good, "no readings"},
		{"a control character", head + "a,mm,25.9\x1b[31m 1 1 1,24.4\n" + good, "thickness"},
		{"a long row", head + "a," + strings.Repeat("x", 2*longestRow) + "\n" + good, "longer than 64 kB"},
		{"bytes that are no text", head + "\xff\xfe,mm,\xff,24.4\n" + good, "thickness"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out strings.Builder
			var bad []string
			s := Streamer{Calcs: commandOf("rotor"), Bad: func(line int, id string, err error) { bad = append(bad, fmt.Sprintf("%d %s %v", line, id, err)) }}
			tally, err := s.Run(strings.NewReader(tt.file), &out)
			if err != nil || tally.Rows != 2 || tally.Bad != 1 || len(bad) != 1 || !strings.Contains(bad[0], tt.want) || !strings.HasPrefix(bad[0], "2 ") {
				t.Errorf("%+v, %v, %q; want %q", tally, err, bad, tt.want)
			}
			lines := strings.Split(out.String(), "\n")
			if len(lines) != 3 || !strings.Contains(lines[0], `"error":"`) || !strings.Contains(lines[1], `"id":"good","results":{"least_thickness_mm":25.9,`) {
				t.Errorf("wrote %q", lines)
			}
			for _, l := range lines[:2] {
				if !json.Valid([]byte(l)) {
					t.Errorf("no JSON: %s", l)
				}
			}
		})
	}
	for _, tt := range []struct{ name, file, want string }{
		{"nothing", "", "the file is empty"},
		{"an unknown column", "id,unit,thickness,colour\n", `"colour" is no column; want some of id, unit, thickness`},
		{"a column twice", "id,thickness,id\n", "id stands there twice"},
		{"no readings", "id,unit,discard\n", "no column of readings"},
		{"another coding", "\xff\xfei\x00d\x00", "UTF-8"},
		{"no header", "a,mm,25.9,24.4\n", "is no column"},
		{"a long one", strings.Repeat("id,", longestRow), "longer than 64 kB"},
		{"a picture", "\x89PNG\r\n", "UTF-8"},
	} {
		t.Run("header: "+tt.name, func(t *testing.T) {
			s := Streamer{Calcs: commandOf("rotor")}
			_, err := s.Run(strings.NewReader(tt.file), io.Discard)
			var header *HeaderError
			if !errors.As(err, &header) || !strings.Contains(err.Error(), tt.want) || !strings.HasPrefix(err.Error(), "line 1: ") {
				t.Errorf("%v, want %q", err, tt.want)
			}
		})
	}
	// As spreadsheets write them: semicolons, a mark at the front, carriage
	// returns, capitals, columns in another order, no line end at the end.
	var out strings.Builder
	s := Streamer{Calcs: commandOf("rotor"), Unit: "mm"}
	tally, err := s.Run(strings.NewReader("\ufeffDiscard;ID;Thickness\r\n24,4;a;25,9 25,9 25,9 25,9"), &out)
	if err != nil || tally.Bad != 0 || tally.Limits != 1 || !strings.Contains(out.String(), `"above_discard_mm":1.5,`) {
		t.Errorf("%+v, %v, %s", tally, err, out.String())
	}
	if _, err := s.Run(strings.NewReader(head+good), brokenPipe{}); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("a closed pipe: %v", err)
	}
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// Memory is that of one row, whatever the file.
func TestStreamMemoryIsFlat(t *testing.T) {
	peak := func(rows int) uint64 {
		var most uint64
		n := 0
		s := Streamer{Calcs: commandOf("rotor"), Seen: func(int) {
			if n++; n%500 == 0 {
				runtime.GC()
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}}
		text := manyRotors(500)
		head, body, _ := strings.Cut(text, "\n")
		in := []io.Reader{strings.NewReader(head + "\n")}
		for range rows / 500 {
			in = append(in, strings.NewReader(body))
		}
		if _, err := s.Run(io.MultiReader(in...), io.Discard); err != nil {
			t.Fatal(err)
		}
		return most
	}
	small, large := peak(1000), peak(20000)
	t.Logf("live after 1,000 rows %d kB, after 20,000 %d kB", small>>10, large>>10)
	if large > small+200<<10 {
		t.Errorf("live memory went from %d to %d bytes", small, large)
	}
}

func FuzzStream(f *testing.F) {
	f.Add("id,unit,thickness,dial,discard\na,mm,25.9 25.9 25.9 25.9,0 0 0 0,24.4\n")
	f.Add("thickness;unit\n\"1,5 2\";thou\n\n;;\n")
	f.Add("id,dial\n\"a\nb\",\"0 1 2 3 in\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		var out strings.Builder
		s := Streamer{Calcs: commandOf("rotor"), Unit: "mm"}
		tally, err := s.Run(strings.NewReader(text), &out)
		var header *HeaderError
		if err != nil && !errors.As(err, &header) {
			t.Fatal(err)
		}
		n := 0
		for line := range strings.Lines(out.String()) {
			n++
			if !json.Valid([]byte(line)) {
				t.Fatalf("no JSON: %q", line)
			}
		}
		if n != tally.Rows {
			t.Fatalf("%d lines for %d rows", n, tally.Rows)
		}
	})
}

// manyRotors is a file of rotors, 12 thickness and 12 dial readings each.
func manyRotors(n int) string {
	r := rand.New(rand.NewPCG(1, 2))
	var b strings.Builder
	b.WriteString("id,unit,thickness,dial,discard,machine_to,variation_limit,runout_limit\n")
	for i := range n {
		fmt.Fprintf(&b, "r%d,mm,", i)
		for k := range 12 {
			fmt.Fprintf(&b, "%.3f ", 25.98+0.005*math.Cos(2*math.Pi*float64(k)/6+float64(i))+0.001*r.NormFloat64())
		}
		b.WriteByte(',')
		for k := range 12 {
			fmt.Fprintf(&b, "%.3f ", 0.04*math.Cos(2*math.Pi*float64(k)/12+float64(i))+0.003*r.NormFloat64())
		}
		b.WriteString(",24.4,24.9,0.013,0.08\n")
	}
	return b.String()
}

func commandOf(name string) (out []Calculation) {
	for _, c := range Table() {
		if c.Command == name {
			out = append(out, c)
		}
	}
	return out
}

// One rotor from text to JSON; the header of the file is read once in 10,000.
func BenchmarkStream(b *testing.B) {
	const rows = 10000
	text := manyRotors(rows)
	calcs := commandOf("rotor")
	b.ReportAllocs()
	b.SetBytes(int64(len(text) / rows))
	b.ResetTimer()
	for left := b.N; left > 0; left -= rows {
		in := io.Reader(strings.NewReader(text))
		if left < rows {
			lines := strings.SplitAfterN(text, "\n", left+2)
			in = strings.NewReader(strings.Join(lines[:left+1], ""))
		}
		s := Streamer{Calcs: calcs}
		if _, err := s.Run(in, io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
