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
	inch   bool
	coarse bool        // read with a rule: fewer digits, no thousandths of an inch
	step   unit.Length // finest last place of the readings
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

// showRule is showFor of what was read with a rule.
func showRule(readings []unit.Any) shower {
	s := showFor(readings)
	s.coarse = true
	return s
}

// digits are those after the point in unit u, of what was read with a rule.
func (s shower) digits(u string) int {
	switch {
	case u == "in":
		return 3
	case s.step > 0 && s.step < 0.05*unit.Millimetre:
		return 2
	}
	return 1
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
	switch {
	case s.coarse:
		return s.large()
	case s.inch:
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

func (s shower) one(l unit.Length, u string) string {
	if s.coarse {
		return unit.FormatTo(unit.KindLength, float64(l), u, s.digits(u))
	}
	return unit.Format(unit.KindLength, float64(l), u)
}

func (s shower) both(l unit.Length, own, other string) string {
	return s.one(l, own) + " (" + s.one(l, other) + ")"
}

// fine shows a small length in both systems, size a large one.
func (s shower) fine(l unit.Length) string { own, other := s.small(); return s.both(l, own, other) }
func (s shower) size(l unit.Length) string { own, other := s.large(); return s.both(l, own, other) }

// long is a large length in the person's own unit alone.
func (s shower) long(l unit.Length) string { own, _ := s.large(); return s.one(l, own) }

// bare is the number alone, in the person's own large unit.
func (s shower) bare(l unit.Length) string {
	own, _ := s.large()
	return strings.TrimSuffix(s.one(l, own), " "+own)
}

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
		pair := func(limit unit.Length) (value, bound string) {
			if s.coarse {
				return unit.FormatAgainstTo(unit.KindLength, float64(v), float64(limit), u, s.digits(u))
			}
			return unit.FormatAgainst(unit.KindLength, float64(v), float64(limit), u)
		}
		value, bound = pair(limit.High)
		if limit.Low != limit.High {
			_, low := pair(limit.Low)
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
