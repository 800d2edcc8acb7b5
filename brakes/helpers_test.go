package brakes

import (
	"bufio"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"chock/brakes/unit"
)

// deg is an angle in degrees, um a length in micrometres, mm in millimetres.
func deg(d float64) unit.Angle   { return unit.Angle(d) * unit.Degree }
func um(l float64) unit.Length   { return unit.Length(l) * unit.Micrometre }
func mm(l float64) unit.Length   { return unit.Length(l) * unit.Millimetre }
func inUM(l unit.Length) float64 { return l.Micrometres() }

func turnOf(unitOf func(float64) unit.Length, text string) Turn {
	words := strings.Fields(text)
	t := Turn{Positions: len(words)}
	for i, w := range words {
		if w == "-" {
			continue
		}
		v, err := strconv.ParseFloat(w, 64)
		if err != nil {
			panic(err)
		}
		t.Points = append(t.Points, Point{i, unitOf(v)})
	}
	return t
}

// near fails the test unless got is within half of want's last printed place.
// Every wanted value names its source.
func near(t *testing.T, what string, got float64, want, source string) {
	t.Helper()
	if source == "" {
		t.Errorf("%s: every row names its source", what)
	}
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	places := 0
	if _, frac, ok := strings.Cut(want, "."); ok {
		places = len(frac)
	}
	// A millionth of the half place is for printing halves.
	if within := 0.500001 * math.Pow(10, -float64(places)); !(math.Abs(got-w) <= within) {
		t.Errorf("%s is %.9g, want %s within %g\nsource: %s", what, got, want, within, source)
	}
}

// nearAngle is near for degrees that start again at a period.
func nearAngle(t *testing.T, what string, got unit.Angle, want string, period float64, source string) {
	t.Helper()
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	g := got.Degrees()
	if g < 0 || g >= period {
		t.Errorf("%s is %g degrees, want 0 up to %g", what, g, period)
	}
	near(t, what, w+math.Remainder(g-w, period), want, source)
}

// published reads a file of testdata/published: its comment lines, then the
// fields of each line.
func published(t *testing.T, name string) (first string, lines [][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for sc := bufio.NewScanner(f); sc.Scan(); {
		line := sc.Text()
		if strings.HasPrefix(line, "#") {
			if first == "" {
				first = strings.TrimPrefix(line, "# ")
			}
			continue
		}
		if first == "" {
			t.Fatalf("%s: the first line names document, section and year", name)
		}
		lines = append(lines, strings.Fields(line))
	}
	return first, lines
}

func refused(t *testing.T, what string, err error) {
	t.Helper()
	var out *OutOfRange
	if !errors.As(err, &out) {
		t.Errorf("%s: error %v, want OutOfRange", what, err)
	}
}

var notNumbers = []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(1)), unit.Length(math.Inf(-1))}
