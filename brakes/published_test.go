package brakes

import (
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"chock/brakes/unit"
)

// How the answer of a published example is known.
var marks = []string{
	"read",        // the document itself, or a stored copy of it
	"second-hand", // texts that quote it and agree
	"memory",      // published, not read again
	"worked",      // reckoned apart from this program, from a published rule or from none
}

// The files that are tables, each with a test of its own, and how many of
// their values on a line, or in all, are answers. Every other file holds
// worked examples, one on a line.
var tables = map[string]struct {
	each, all int
	mark      string
}{
	"control-chart-d2.txt":     {each: 1, mark: "second-hand"},
	"studentized-range-95.txt": {each: 1, mark: "second-hand"},
	"nist-strd-enso.txt":       {all: 8, mark: "read"}, // seven coefficients and the residual sum of squares
	"imbalance-uk.txt":         {each: 3, mark: "worked"},
	"imbalance-us.txt":         {each: 3, mark: "worked"},
	"lining-life.txt":          {each: 2, mark: "read"},
	"wheel-cylinder-bores.txt": {each: 4, mark: "worked"},
	"pedal-reserve.txt":        {each: 5, mark: "worked"},
}

// An operation works out one worked example. Its inputs are as they stand on
// the line; it answers with a quantity of brakes/unit, or a float64.
type operation func(t *testing.T, in []string) any

// operations are those of all test files.
func operations(t *testing.T) map[string]operation {
	all := map[string]operation{}
	for _, some := range []map[string]operation{
		hydraulicOps, tyreOps, shakeOps, growthOps,
		conformOps, policyOps,
		boosterOps, pistonOps, pedalOps,
		balanceOps,
		torqueOps,
		stopOps, gradeOps, heatOps, fluidOps,
	} {
		for name, op := range some {
			if all[name] != nil {
				t.Fatalf("two operations are called %s", name)
			}
			all[name] = op
		}
	}
	return all
}

// amount reads an input of a worked example: 600lbf, 1.25in, 6.
func amount[Q ~float64](t *testing.T, text string) Q {
	t.Helper()
	var q Q
	a, err := unit.Parse(unit.Of(unit.Reading[Q]{Value: q}).Kind, text, "")
	if err != nil {
		t.Fatal(err)
	}
	return unit.As[Q](a).Value
}

// amounts reads an input that is a list: 2in,1.5in.
func amounts[Q ~float64](t *testing.T, text string) []Q {
	t.Helper()
	var out []Q
	for one := range strings.SplitSeq(text, ",") {
		out = append(out, amount[Q](t, one))
	}
	return out
}

// must gives the answer of a formula that must not refuse.
func must[Q any](t *testing.T, q Q, err error) Q {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// inUnit gives an answer as a number in a unit by name.
func inUnit(t *testing.T, q any, name string) float64 {
	t.Helper()
	var a unit.Any
	switch v := q.(type) {
	case float64:
		a = unit.Of(unit.Reading[unit.Ratio]{Value: unit.Ratio(v)})
	case unit.Ratio:
		a = unit.Of(unit.Reading[unit.Ratio]{Value: v})
	case unit.Length:
		a = unit.Of(unit.Reading[unit.Length]{Value: v})
	case unit.Area:
		a = unit.Of(unit.Reading[unit.Area]{Value: v})
	case unit.Volume:
		a = unit.Of(unit.Reading[unit.Volume]{Value: v})
	case unit.Pressure:
		a = unit.Of(unit.Reading[unit.Pressure]{Value: v})
	case unit.Force:
		a = unit.Of(unit.Reading[unit.Force]{Value: v})
	case unit.Mass:
		a = unit.Of(unit.Reading[unit.Mass]{Value: v})
	case unit.Temperature:
		a = unit.Of(unit.Reading[unit.Temperature]{Value: v})
	case unit.TempChange:
		a = unit.Of(unit.Reading[unit.TempChange]{Value: v})
	case unit.Angle:
		a = unit.Of(unit.Reading[unit.Angle]{Value: v})
	case unit.Speed:
		a = unit.Of(unit.Reading[unit.Speed]{Value: v})
	case unit.Torque:
		a = unit.Of(unit.Reading[unit.Torque]{Value: v})
	case unit.Acceleration:
		a = unit.Of(unit.Reading[unit.Acceleration]{Value: v})
	case unit.Energy:
		a = unit.Of(unit.Reading[unit.Energy]{Value: v})
	case unit.Power:
		a = unit.Of(unit.Reading[unit.Power]{Value: v})
	case unit.Frequency:
		a = unit.Of(unit.Reading[unit.Frequency]{Value: v})
	case unit.Time:
		a = unit.Of(unit.Reading[unit.Time]{Value: v})
	case unit.SpecificHeat:
		a = unit.Of(unit.Reading[unit.SpecificHeat]{Value: v})
	case unit.Density:
		a = unit.Of(unit.Reading[unit.Density]{Value: v})
	default:
		t.Fatalf("%T is no answer", q)
	}
	v, ok := a.In(name)
	if !ok {
		t.Fatalf("a %s has no unit %q", a.Kind, name)
	}
	return v
}

// An example is one line of worked examples:
//
//	OPERATION INPUT... = ANSWER [UNIT] [0.2% | cut] [@mark]
//
// The answer is held to half of its last printed place. Where the text cuts
// digits off it says cut; where it rounds on the way, by how much it may be
// off. A mark counts before that of its file.
type example struct {
	op         string
	in         []string
	want, unit string
	slack      string
	mark       string
}

func readExample(t *testing.T, file string, fields []string, mark string) example {
	t.Helper()
	eq := slices.Index(fields, "=")
	if eq < 1 || len(fields) < eq+2 {
		t.Fatalf("%s: want OPERATION INPUT... = ANSWER, got %q", file, fields)
	}
	e := example{op: fields[0], in: fields[1:eq], want: fields[eq+1], mark: mark}
	for _, f := range fields[eq+2:] {
		switch {
		case strings.HasPrefix(f, "@"):
			e.mark = f[1:]
		case f == "cut" || len(f) > 1 && strings.HasSuffix(f, "%"):
			e.slack = f
		case e.unit == "":
			e.unit = f
		default:
			t.Fatalf("%s: %q has something left: %q", file, fields, f)
		}
	}
	if !slices.Contains(marks, e.mark) {
		t.Fatalf("%s: %q has the mark %q, want one of %v", file, fields, e.mark, marks)
	}
	return e
}

func (e example) check(t *testing.T, op operation, source string) {
	t.Helper()
	what := e.op + " " + strings.Join(e.in, " ")
	got := inUnit(t, op(t, e.in), e.unit)
	switch {
	case e.slack == "":
		near(t, what, got, e.want, source)
	case e.slack == "cut":
		_, frac, _ := strings.Cut(e.want, ".")
		ten := math.Pow(10, float64(len(frac)))
		near(t, what, math.Floor(got*ten)/ten, e.want, source)
	default:
		share, err := strconv.ParseFloat(strings.TrimSuffix(e.slack, "%"), 64)
		if err != nil {
			t.Fatal(err)
		}
		want, err := strconv.ParseFloat(e.want, 64)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(got/want-1) * 100; !(off <= share) {
			t.Errorf("%s is %.6g, off by %.2g %%\nsource: %s", what, got, off, source)
		}
	}
}

// fileMark is the mark of a file of worked examples: its line "# mark: read".
func fileMark(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile("../testdata/published/" + file)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if mark, ok := strings.CutPrefix(strings.TrimSpace(line), "# mark: "); ok {
			return mark
		}
	}
	return ""
}

// Every worked example, and how many answers from outside there are.
func TestPublished(t *testing.T) {
	entries, err := os.ReadDir("../testdata/published")
	if err != nil {
		t.Fatal(err)
	}
	ops := operations(t)
	used := map[string]bool{}
	count := map[string]int{}
	for _, entry := range entries {
		file := entry.Name()
		source, lines := published(t, file)
		if table, ok := tables[file]; ok {
			if table.mark == "" || table.each+table.all == 0 {
				t.Errorf("%s: how many values, and of which mark?", file)
			}
			count[table.mark] += table.all + table.each*len(lines)
			continue
		}
		mark := fileMark(t, file)
		for _, fields := range lines {
			e := readExample(t, file, fields, mark)
			op := ops[e.op]
			if op == nil {
				t.Fatalf("%s: no operation %q", file, e.op)
			}
			used[e.op] = true
			count[e.mark]++
			e.check(t, op, source)
		}
	}
	for name := range ops {
		if !used[name] {
			t.Errorf("no worked example uses the operation %s", name)
		}
	}
	all := 0
	for _, m := range marks {
		t.Logf("%4d answers from outside, mark %s", count[m], m)
		all += count[m]
	}
	if all < 150 {
		t.Errorf("%d answers from outside, want 150 or more", all)
	}
}

// The runner itself: a wrong answer, a wrong unit and a mark that is none.
func TestExampleFormat(t *testing.T) {
	e := readExample(t, "here", strings.Fields("rod 70lbf 6.2 = 434 lbf cut @memory"), "read")
	if e.op != "rod" || len(e.in) != 2 || e.want != "434" || e.unit != "lbf" || e.slack != "cut" || e.mark != "memory" {
		t.Errorf("%+v", e)
	}
	e = readExample(t, "here", strings.Fields("ratio 3in 1in = 9 0.2%"), "read")
	if e.unit != "" || e.slack != "0.2%" || e.mark != "read" {
		t.Errorf("%+v", e)
	}
}

// wrongAnswers works out anew what a published answer has wrong: testdata/wrong-answers.txt.
var wrongAnswers = map[string]func(t *testing.T) []any{
	"load-algebra": func(t *testing.T) []any { return slidingCar(t, 9900, 4.5, 2.3, 1.0, 0.4) },
	"load-divisor": func(t *testing.T) []any { return slidingCar(t, 11000, 4.2, 1.8, 0.75, 0.40) },
	"one-axle-distance": func(t *testing.T) []any {
		body := Body{Front: 0.46, Rear: 0.54, Wheelbase: 2.5, CentreHeight: 0.6}
		var out []any
		for _, rear := range []unit.Ratio{1, 0} {
			out = append(out, oneAxleStop(t, body, rear, 0.5, 45*unit.KilometrePerHour))
		}
		return out
	},
	"front-brakes-only": func(t *testing.T) []any {
		split, err := ShareSplit(0)
		lock, err2 := Body{Front: 0.3, Rear: 0.7, Wheelbase: 4, CentreHeight: 0.8}.Lock(must(t, split, err), 0.8)
		return []any{times(float64(must(t, lock, err2).Best), unit.StandardGravity)}
	},
	"leading-shoe-sign": func(t *testing.T) []any {
		_, torque, err := Block{Drum: mm(200), Arm: mm(1000), Normal: mm(500), Offset: mm(200)}.PressedBy(0.35, 100, Leading)
		return []any{must(t, torque, err)}
	},
	"one-face-of-two": func(t *testing.T) []any {
		c, err := UniformWear(Pad{Inner: 2.5 * unit.Inch, Outer: 5 * unit.Inch, Angle: deg(60)})
		clamp, err2 := PistonForce(200*unit.PSI, must(t, c, err).Carrying)
		torque, err3 := DiscTorque(0.2, must(t, clamp, err2), c.Radius)
		return []any{must(t, torque, err3)}
	},
	"disc-one-face": func(t *testing.T) []any {
		torque, err := DiscTorque(0.4, 628.32*unit.PoundForce, 5*unit.Inch)
		return []any{must(t, torque, err)}
	},
	"shoe-force-as-normal": func(t *testing.T) []any {
		shoe := PivotedShoe{Drum: mm(150), Width: mm(40), Pivot: mm(125), To: deg(120), Arm: mm(216.506)}
		lead, err := shoe.PressedBy(0.28, 2200, Leading)
		trail, err2 := shoe.PressedBy(0.28, 2200, Trailing)
		return []any{must(t, lead, err).Torque, must(t, trail, err2).Torque}
	},
	"dot-4-dry": func(t *testing.T) []any { return []any{fluidNamed(t, "DOT 4").Dry.Value} },
	"dot-5.1": func(t *testing.T) []any {
		f := fluidNamed(t, "DOT 5.1")
		return []any{f.Dry.Value, f.Wet.Value}
	},
	"force-share": func(t *testing.T) []any {
		return []any{byID(ForceRules(), func(r ForceRule) string { return r.ID }, "us-393-truck").Force.Value}
	},
}

// slidingCar gives the load on each rear and each front wheel of a car that
// slides on all four, and their brake forces.
func slidingCar(t *testing.T, weight unit.Force, wheelbase, behindFront, height unit.Length, grip unit.Ratio) []any {
	t.Helper()
	psi := unit.Per(behindFront, wheelbase)
	body := Body{Front: times(float64(1-psi), weight), Rear: times(float64(psi), weight), Wheelbase: wheelbase, CentreHeight: height}
	front, rear, err := body.Loads(grip)
	must(t, front, err)
	return []any{rear / 2, front / 2, times(float64(grip)/2, rear), times(float64(grip)/2, front)}
}

// oneAxleStop is the way to a stand with the brakes of one axle alone.
func oneAxleStop(t *testing.T, b Body, rear, grip unit.Ratio, from unit.Speed) unit.Length {
	t.Helper()
	split, err := ShareSplit(rear)
	lock, err2 := b.Lock(must(t, split, err), grip)
	stop, err3 := StoppingDistance(Stop{From: from, Brakes: times(float64(must(t, lock, err2).Best), unit.StandardGravity)})
	return must(t, stop, err3).Distance
}

func fluidNamed(t *testing.T, name string) Fluid {
	t.Helper()
	f, ok := FindFluid(name)
	if !ok {
		t.Fatalf("no fluid %s", name)
	}
	return f
}

// Published answers that are wrong: ours are not those, and are the right ones
// where they are known.
func TestWrongAnswers(t *testing.T) {
	text, err := os.ReadFile("../testdata/wrong-answers.txt")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "#") {
			continue
		}
		fields := strings.Split(line, " | ")
		if len(fields) != 5 || fields[4] == "" {
			t.Fatalf("want name, question, printed, right and why, got %q", line)
		}
		name := fields[0]
		work := wrongAnswers[name]
		if work == nil || seen[name] {
			t.Fatalf("%s: not worked out here, or twice in the file", name)
		}
		seen[name] = true
		got := work(t)
		for i, printed := range strings.Split(fields[2], ", ") {
			number, unitName, _ := strings.Cut(printed, " ")
			if v := inUnit(t, got[i], unitName); isPrinted(t, v, number) {
				t.Errorf("%s: %g is the wrong answer that is printed, %s", name, v, printed)
			}
		}
		right := strings.Split(fields[3], ", ")
		if len(right) != len(got) {
			t.Fatalf("%s: %d right answers, %d worked out", name, len(right), len(got))
		}
		for i, want := range right {
			number, unitName, _ := strings.Cut(want, " ")
			near(t, name, inUnit(t, got[i], unitName), number, "testdata/wrong-answers.txt: "+fields[4])
		}
	}
	for name := range wrongAnswers {
		if !seen[name] {
			t.Errorf("%s is not in testdata/wrong-answers.txt", name)
		}
	}
}

// isPrinted reports whether a value is a printed number, to half of its last
// place.
func isPrinted(t *testing.T, v float64, printed string) bool {
	t.Helper()
	want, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, frac, _ := strings.Cut(printed, ".")
	return math.Abs(v-want) <= 0.5*math.Pow(10, -float64(len(frac)))
}
