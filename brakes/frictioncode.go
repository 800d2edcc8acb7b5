package brakes

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes/unit"
)

const edgePractice = "SAE J866, friction coefficient identification and environmental marking system for brake linings, table 1, 2019 (read in a summary)"

// Where the letters on the edge of a lining divide the friction. A letter
// takes in its upper end: 0.35 is E.
var (
	CodeC = Figure[unit.Ratio]{
		Value:  0.15,
		Mark:   Published,
		Source: edgePractice,
		Scope:  "upper end of the letter C and lower end of D; friction of a small sample on a test machine",
	}
	CodeD = Figure[unit.Ratio]{
		Value:  0.25,
		Mark:   Published,
		Source: edgePractice,
		Scope:  "upper end of the letter D and lower end of E; friction of a small sample on a test machine",
	}
	CodeE = Figure[unit.Ratio]{
		Value:  0.35,
		Mark:   Published,
		Source: edgePractice,
		Scope:  "upper end of the letter E and lower end of F; friction of a small sample on a test machine",
	}
	CodeF = Figure[unit.Ratio]{
		Value:  0.45,
		Mark:   Published,
		Source: edgePractice,
		Scope:  "upper end of the letter F and lower end of G; friction of a small sample on a test machine",
	}
	CodeG = Figure[unit.Ratio]{
		Value:  0.55,
		Mark:   Published,
		Source: edgePractice,
		Scope:  "upper end of the letter G and lower end of H; friction of a small sample on a test machine",
	}
)

// A Band is what a letter says of the friction: more than Over, and no more
// than To. To of the letter H is infinite, and of Z, which is unclassified,
// both are NaN.
type Band struct {
	Letter   byte
	Over, To unit.Ratio
}

// Known reports whether the letter says anything.
func (b Band) Known() bool { return !math.IsNaN(float64(b.Over)) }

// Bands lists the letters, the lowest friction first.
func Bands() []Band {
	unknown := unit.Ratio(math.NaN())
	return []Band{
		{'C', 0, CodeC.Value},
		{'D', CodeC.Value, CodeD.Value},
		{'E', CodeD.Value, CodeE.Value},
		{'F', CodeE.Value, CodeF.Value},
		{'G', CodeF.Value, CodeG.Value},
		{'H', CodeG.Value, unit.Ratio(math.Inf(1))},
		{'Z', unknown, unknown},
	}
}

// bandNamed gives the band of a letter; ok is false where there is none.
func bandNamed(letter byte) (b Band, ok bool) {
	for _, b := range Bands() {
		if b.Letter == letter {
			return b, true
		}
	}
	return Band{}, false
}

// LetterOf is the band in which a friction lies.
//
//	Over < μ <= To
//
// μ is 0 or more. Source: the practice named with [CodeC].
func LetterOf(friction unit.Ratio) (Band, error) {
	if err := notNegative("friction", friction); err != nil {
		return Band{}, err
	}
	for _, b := range Bands() {
		// What rounding alone lifts over the line counts as on it.
		if float64(friction) <= float64(b.To)*(1+1e-12) {
			return b, nil
		}
	}
	return Band{}, &OutOfRange{"friction", fmt.Sprint(friction), "a number"}
}

// An EdgeCode is what the marks on the edge of a lining say.
type EdgeCode struct {
	Normal, Hot Band // at 93 to 204 °C, and over a fade and its recovery
	Material    byte // A, B or N: how much copper; 0 where there is no such mark
	Year        int  // in which it was made; 0 where there is no such mark
}

// Copper says what the environmental letter says.
func (e EdgeCode) Copper() string {
	switch e.Material {
	case 'A':
		return "no limit on copper"
	case 'B':
		return "more than 0.5 and up to 5 % copper"
	case 'N':
		return "0.5 % copper or less"
	}
	return ""
}

// ParseEdgeCode reads the marks as they stand on the edge: two letters for the
// friction and, last, a letter and two digits for copper and year. What stands
// before the two letters, maker and compound, is passed over; blanks, hyphens
// and small letters do not matter.
//
//	FF     FF B16     1234-ABC FE N21
//
// Source: the practice named with [CodeC]. Its note: the codes cannot reliably
// be used to predict how a brake system performs.
func ParseEdgeCode(text string) (EdgeCode, error) {
	refuse := func(want string) (EdgeCode, error) {
		return EdgeCode{}, &OutOfRange{"edge code", fmt.Sprintf("%.40q", text), want}
	}
	words := strings.FieldsFunc(strings.ToUpper(text), func(r rune) bool { return r == ' ' || r == '-' || r == '\t' || r == '_' || r == '/' })
	if len(words) == 0 {
		return refuse("two letters, such as FF")
	}
	var e EdgeCode
	last := words[len(words)-1]
	if len(last) == 5 && environmental(last[2:]) {
		last = last[:2] // FFB16
		e.Material, e.Year = mark(words[len(words)-1][2:])
	} else if environmental(last) {
		if len(words) == 1 {
			return refuse("two letters before the mark of the year, such as FF B16")
		}
		e.Material, e.Year = mark(last)
		last = words[len(words)-2]
	}
	if len(last) != 2 {
		return refuse("two letters for the friction, such as FF or FE B16")
	}
	var ok [2]bool
	e.Normal, ok[0] = bandNamed(last[0])
	e.Hot, ok[1] = bandNamed(last[1])
	if !ok[0] || !ok[1] {
		return refuse("two letters out of C, D, E, F, G, H and Z")
	}
	return e, nil
}

func environmental(w string) bool {
	digit := func(c byte) bool { return '0' <= c && c <= '9' }
	return len(w) == 3 && strings.IndexByte("ABN", w[0]) >= 0 && digit(w[1]) && digit(w[2])
}

// mark reads an environmental mark. The marks are younger than 2000.
func mark(w string) (material byte, year int) {
	return w[0], 2000 + 10*int(w[1]-'0') + int(w[2]-'0')
}

// A CodeSpread is by how much the torques of two sides may differ at the same
// pressure, over the higher, as far as two letters tell. NaN is unknown.
type CodeSpread struct {
	Low, Middle, High unit.Ratio
	Stronger          int // 1 where the letter of the left is the higher, -1 where that of the right is, else 0
}

// SpreadOfCodes compares two letters through the factor of the brake.
//
//	low     0 where the bands meet, else (H - L)/H of their nearest ends
//	middle  (H - L)/H of their middles
//	high    (H - L)/H of their farthest ends
//
// factor is that of a build at a friction, as [DiscFactor]; an end at which it
// is refused leaves its share unknown. So does the letter H, which has no
// upper end, and Z, which has none at all. A lower end itself is not in its
// band, so high is never quite reached. Source: ratio of the factors; the
// bands of [CodeC].
func SpreadOfCodes(left, right Band, factor func(unit.Ratio) (unit.Ratio, error)) CodeSpread {
	at := func(friction unit.Ratio) float64 {
		if friction == 0 {
			return 0
		}
		f, err := factor(friction)
		if err != nil {
			return math.NaN()
		}
		return float64(f)
	}
	// over is (H - L)/H; NaN where one of the two is unknown.
	over := func(a, b float64) unit.Ratio {
		if a == b {
			return 0
		}
		return unit.Ratio(1 - min(a, b)/max(a, b))
	}
	s := CodeSpread{Low: over(math.NaN(), 1)}
	s.Middle, s.High = s.Low, s.Low
	if !left.Known() || !right.Known() {
		return s
	}
	weak, strong := left, right
	if weak.Over > strong.Over {
		weak, strong = strong, weak
	}
	if s.Low = 0; strong.Over > weak.To {
		s.Low = over(at(weak.To), at(strong.Over))
	}
	s.High = over(at(weak.Over), at(strong.To))
	s.Middle = over(at((left.Over+left.To)/2), at((right.Over+right.To)/2))
	switch {
	case left.Over > right.Over:
		s.Stronger = 1
	case left.Over < right.Over:
		s.Stronger = -1
	}
	return s
}
