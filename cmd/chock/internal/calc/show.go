package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// A shower prints lengths the way the person typed them: inches or
// millimetres first, the other system after it.
type shower struct {
	inch bool
	step unit.Length // finest last place of the readings
}

func showFor(readings []unit.Any) shower {
	s := shower{step: finest(readings)}
	for _, r := range readings {
		if !r.Missing() {
			switch r.Unit {
			case "in", "thou", "ft", "":
				s.inch = true
			}
			return s
		}
	}
	return s
}

// reading is the bare number of a reading in own, with the digits that were
// typed: the finest of them, the same for all.
func (s shower) reading(l unit.Length, own string) string {
	v, _ := unit.Of(unit.Reading[unit.Length]{Value: l}).In(own)
	one, _ := unit.Of(unit.Reading[unit.Length]{Value: s.step}).In(own)
	places := 3
	if one > 0 {
		places = min(max(int(math.Ceil(-math.Log10(one)-1e-9)), 0), 7)
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func (s shower) fineReading(l unit.Length) string { own, _ := s.small(); return s.reading(l, own) }
func (s shower) sizeReading(l unit.Length) string { own, _ := s.large(); return s.reading(l, own) }

// less writes a number to take away: a negative one in brackets.
func less(number string) string {
	if strings.HasPrefix(number, "-") {
		return "(" + number + ")"
	}
	return number
}

// small are the units of runout and variation, large those of thickness and
// diameter: first the person's own, then the other.
func (s shower) small() (own, other string) {
	if s.inch {
		return "thou", "mm"
	}
	return "mm", "thou"
}

func (s shower) large() (own, other string) {
	if s.inch {
		return "in", "mm"
	}
	return "mm", "in"
}

func both(l unit.Length, own, other string) string {
	return unit.Format(unit.KindLength, float64(l), own) + " (" + unit.Format(unit.KindLength, float64(l), other) + ")"
}

// fine shows a small length in both systems, size a large one.
func (s shower) fine(l unit.Length) string { own, other := s.small(); return both(l, own, other) }
func (s shower) size(l unit.Length) string { own, other := s.large(); return both(l, own, other) }

// fineNumber is the bare number in the person's own small unit.
func (s shower) fineNumber(l unit.Length) string { own, _ := s.small(); return bareNumber(l, own) }

func bareNumber(l unit.Length, own string) string {
	return strings.TrimSuffix(unit.Format(unit.KindLength, float64(l), own), " "+own)
}

// against shows a value and the limit it is held against, so that rounding
// never carries the one across the other; the limit may be a range.
func (s shower) against(v unit.Length, limit brakes.Limit[unit.Length], large bool) (value, bound string) {
	own, other := s.small()
	if large {
		own, other = s.large()
	}
	show := func(u string) (value, bound string) {
		value, bound = unit.FormatAgainst(unit.KindLength, float64(v), float64(limit.High), u)
		if limit.Low != limit.High {
			_, low := unit.FormatAgainst(unit.KindLength, float64(v), float64(limit.Low), u)
			bound = strings.TrimSuffix(low, " "+u) + " to " + bound
		}
		return value, bound
	}
	v1, b1 := show(own)
	v2, b2 := show(other)
	return v1 + " (" + v2 + ")", b1 + " (" + b2 + ")"
}

// degrees are whole ones, and 360 is 0.
func degrees(a unit.Angle) string {
	return fmt.Sprintf("%.0f degrees", math.Mod(math.Round(a.Degrees()), 360))
}

// where names a direction by degrees and, where studs are known, by the
// nearest stud.
func where(a unit.Angle, studs int) string {
	text := degrees(a)
	if studs == 0 {
		return text + " from stud 1"
	}
	stud, past, err := brakes.NearestStud(a, studs)
	if err != nil {
		return text
	}
	off := math.Round(past.Degrees())
	switch {
	case off == 0:
		return fmt.Sprintf("%s, at stud %d", text, stud)
	case off > 0:
		return fmt.Sprintf("%s, %.0f past stud %d", text, off, stud)
	}
	return fmt.Sprintf("%s, %.0f before stud %d", text, -off, stud)
}
