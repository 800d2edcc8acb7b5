package brakes

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"chock/brakes/unit"
)

const sizeTable = "49 CFR 571.109 (FMVSS 109), Appendix A, tyre tables of the 1970s, three rows as NHTSA quotes them in interpretation aiam2474, 1977"

// LoadedShare is how much of its free circumference a tyre rolls off in one
// turn under load.
var LoadedShare = Figure[unit.Ratio]{
	Value:  0.969,
	Mark:   Published,
	Source: "web page on turns of a tyre in a mile, year not kept (stored copy read): 3.1 % less than the size says, an average over many sizes and makes",
	Scope:  "a road tyre at its pressure and load; two makers' service texts (a car of 2003, a heavy pickup of 2010) and a trade article have 0.969 to 0.970 by their figures; one tyre may be 2 to 3 % off it",
}

// How far the way of one turn may be off, by where it is known from.
var (
	SizeOff = Figure[unit.Ratio]{
		Value:  0.03,
		Mark:   Estimate,
		Source: "our choice: tread depth, pressure, load and make",
		Scope:  "way of one turn of a tyre, worked out from its size: plus or minus this",
	}
	OldSizeOff = Figure[unit.Ratio]{
		Value:  0.04,
		Mark:   Estimate,
		Source: "our choice: the table gives the least that was allowed, and a seller's table has 28.66 in where it has 28.15",
		Scope:  "the same, of an old size of which only the least diameter is published",
	}
	RollOutOff = Figure[unit.Ratio]{
		Value:  0.01,
		Mark:   Estimate,
		Source: "our choice: a chalk mark, a tape on the ground, the vehicle loaded as usual",
		Scope:  "way of one turn of a tyre, measured on the ground: plus or minus this",
	}
)

// A Tyre is what the size on a sidewall says.
type Tyre struct {
	Size string      // as read, tidied
	Free unit.Length // outer diameter, new and without load
	Old  string      // the table whose least Free is; "" where the size says it itself
}

// Off is how far the way of one turn may be off.
func (t Tyre) Off() unit.Ratio {
	if t.Old != "" {
		return OldSizeOff.Value
	}
	return SizeOff.Value
}

// Old sizes do not say how high the tyre is. These few are at hand: section
// width, and the least sum of section width and outer diameter, in inches.
var oldSizes = map[string][2]float64{
	"H78-15":  {8.55, 36.50},
	"7.60-15": {7.90, 36.05},
	"8.55-15": {8.45, 36.57},
}

const (
	rimPart = `(\d{1,2}(?:\.5)?)`
	// What may follow the rim: light truck, commercial, extra load; load index
	// and speed letter.
	tail  = `(?:\s?(?:LT|ST|C|XL|SL|RF))*(?:\s\d{2,3}(?:/\d{2,3})?\s?[A-Z]\d?)?(?:\s(?:LT|C|XL|M\+S))*$`
	joint = `(?:\s?(?:[HSVZ]?R|[BD]|-|/)\s?|\s)`
)

// The sizes that a sidewall may carry, compiled when the first one is read.
var sizes = sync.OnceValue(func() (p struct{ metric, flotation, numeric, letter, bare *regexp.Regexp }) {
	p.metric = regexp.MustCompile(`^(?:(?:P|LT|ST|T)\s?)?(\d{3})\s?/\s?(\d{2,3})` + joint + rimPart + tail)
	p.flotation = regexp.MustCompile(`^(?:LT\s?)?(\d{2}(?:\.\d{1,2})?)\s?X\s?(\d{1,2}(?:\.\d{1,2})?)` + joint + rimPart + tail)
	p.numeric = regexp.MustCompile(`^(\d{1,2}\.\d{1,2})` + joint + rimPart + tail)
	p.letter = regexp.MustCompile(`^([A-N]R?\d{2})` + joint + rimPart + tail)
	p.bare = regexp.MustCompile(`^(?:(?:P|LT|ST)\s?)?(\d{3})` + joint + rimPart + tail) // metric, without a height
	return p
})

// No road tyre of a car or light truck is smaller or larger.
const (
	leastTyre = 16 * unit.Inch
	mostTyre  = 60 * unit.Inch
)

const rollOutInstead = "; measure the way of one turn on the ground instead"

// ReadTyre reads a size as it stands on the sidewall.
//
//	metric, P235/75R15    D = rim + 2 w a      w width, a height over width
//	flotation, 31x10.50R15    D = 31 in
//	old, H78-15           D = f - w            f least size factor, by table
//
// The letters before and after (P, LT, ST, T, C, load and speed) change
// nothing here. Width 105 to 455 mm, height 25 to 100 % of it, rim 8 to 30 in,
// outer diameter 16 to 60 in. Old sizes in figures (7.00-15) or letters
// (G78-15), and metric ones without a height (165R13), do not say how high the
// tyre is: refused, but for those of which a published table is at hand.
//
// Source: the sizes' own meaning, as makers' owner's manuals explain it; old
// sizes: sizeTable, the size factor being the sum of section width and outer
// diameter (the same standard, S3, from memory).
func ReadTyre(size string) (Tyre, error) {
	text := strings.NewReplacer("×", "X", "*", "X", ",", ".").Replace(strings.ToUpper(strings.Join(strings.Fields(size), " ")))
	if len(text) > 30 {
		text = text[:30]
	}
	t := Tyre{Size: text}
	refuse := func(want string) (Tyre, error) {
		return Tyre{}, &OutOfRange{"tyre size", fmt.Sprintf("%q", text), want}
	}
	rim := func(m []string) (unit.Length, bool) {
		r, err := strconv.ParseFloat(m[len(m)-1], 64)
		return unit.Length(r) * unit.Inch, err == nil && r >= 8 && r <= 30
	}
	if m := sizes().metric.FindStringSubmatch(text); m != nil {
		w, _ := strconv.ParseFloat(m[1], 64)
		a, _ := strconv.ParseFloat(m[2], 64)
		r, ok := rim(m)
		if !ok || w < 105 || w > 455 || a < 25 || a > 100 {
			return refuse("a width of 105 to 455 mm, a height of 25 to 100 % and a rim of 8 to 30 in")
		}
		t.Free = r + times(2*a/100, unit.Length(w)*unit.Millimetre)
		if t.Free < leastTyre || t.Free > mostTyre {
			return refuse("an outer diameter of 16 to 60 in")
		}
		return t, nil
	}
	if m := sizes().flotation.FindStringSubmatch(text); m != nil {
		d, _ := strconv.ParseFloat(m[1], 64)
		r, ok := rim(m)
		t.Free = unit.Length(d) * unit.Inch
		if !ok || t.Free <= r || t.Free < leastTyre || t.Free > mostTyre {
			return refuse("an outer diameter of 16 to 60 in, more than the rim's")
		}
		return t, nil
	}
	for _, old := range []*regexp.Regexp{sizes().numeric, sizes().letter} {
		m := old.FindStringSubmatch(text)
		if m == nil {
			continue
		}
		row, ok := oldSizes[m[1]+"-"+m[2]]
		if !ok {
			return refuse("a size that says how high the tyre is, like 235/75R15 or 31x10.50R15: of this old one no table is at hand" + rollOutInstead)
		}
		t.Free, t.Old = unit.Length(row[1]-row[0])*unit.Inch, sizeTable
		return t, nil
	}
	if sizes().bare.MatchString(text) {
		return refuse("a size that says how high the tyre is, like 235/75R15: this one leaves it out" + rollOutInstead)
	}
	return refuse("a size as on the sidewall: 235/75R15, LT245/75R16, 31x10.50R15, H78-15" + rollOutInstead)
}

// RollingWay is the way of one turn of a loaded tyre.
//
//	c = π k D    k [LoadedShare]
//
// Free diameter D in m, more than 0. Source: that of k.
func RollingWay(free unit.Length) (unit.Length, error) {
	if err := positive("tyre diameter", free); err != nil {
		return 0, err
	}
	return times(math.Pi*float64(LoadedShare.Value), free), nil
}

// RollOut is the way of one turn, measured on the ground over some turns.
//
//	c = way / turns
//
// Way in m, more than 0; turns 1 or more; what comes out is 1 to 5 m, for no
// road tyre turns less or more. Source: definition of the rolling
// circumference.
func RollOut(way unit.Length, turns unit.Count) (unit.Length, error) {
	if err := positive("roll-out", way); err != nil {
		return 0, err
	}
	if err := finite("number of turns", turns); err != nil {
		return 0, err
	}
	if turns < 1 {
		return 0, &OutOfRange{"number of turns", fmt.Sprint(float64(turns)), "1 or more"}
	}
	c := times(1/float64(turns), way)
	if c < 1 || c > 5 {
		return 0, &OutOfRange{"way of one turn", c.String(), "1 to 5 m (3.3 to 16.4 ft)"}
	}
	return c, nil
}

// TurnsIn is how often a tyre turns on a way.
//
//	n = way / c
//
// Way in m, 0 or more; way of one turn c in m, more than 0. Source:
// definition.
func TurnsIn(way, turn unit.Length) (unit.Ratio, error) {
	if err := notNegative("way", way); err != nil {
		return 0, err
	}
	if err := positive("way of one turn", turn); err != nil {
		return 0, err
	}
	return unit.Per(way, turn), nil
}
