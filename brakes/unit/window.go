package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Window reads a range as an author writes it, "0.2 in to 2 in" or "0.2 to 2
// in", and gives its ends in SI.
func Window(kind Kind, text string) (lo, hi float64, err error) {
	low, high, ok := strings.Cut(text, " to ")
	if !ok {
		return 0, 0, fault(text, "want a range, like 0.2 in to 2 in")
	}
	h, err := Parse(kind, high, "")
	if err != nil {
		return 0, 0, err
	}
	l, err := Parse(kind, low, h.Unit)
	if err != nil {
		return 0, 0, err
	}
	if !(l.SI < h.SI) {
		return 0, 0, fault(text, "the smaller end comes first")
	}
	return l.SI, h.SI, nil
}

// Suggest says that a lies outside lo to hi and what may have been meant: "4
// in is outside 0.2 to 2 in; did you mean 4 thou?". It is "" for a reading
// inside, a missing one and a word. Nothing is ever rescaled in silence.
func Suggest(a Any, lo, hi float64) string {
	t := tableOf(a.Kind)
	if t == nil || a.Missing() || lo <= a.SI && a.SI <= hi {
		return ""
	}
	s := t.named(a.Unit)
	if s == nil || a.Unit == "" && s.name != "" {
		s, _ = t.pair(a.SI)
	}
	number := a.number(s)
	text := fmt.Sprintf("%s is outside %s to %s", s.label(number), bare(s.to(lo)), s.label(bare(s.to(hi))))
	if guess := t.guesses(s, number, lo, hi); len(guess) > 0 {
		text += "; did you mean " + strings.Join(guess, " or ") + "?"
	}
	return text
}

// number is the number that was typed, without its unit.
func (a Any) number(s *scale) string {
	var f folded
	if a.Text != "" && f.fold(a.Text) == "" {
		if num, bad := readNumber(f.bytes()); bad == "" {
			return string(f.bytes()[:num.end])
		}
	}
	return bare(s.to(a.SI))
}

// guesses are at most two readings inside the window that one slip turns into
// what was typed: another unit, or a lost decimal point.
func (t *table) guesses(typed *scale, number string, lo, hi float64) []string {
	var list []string
	try := func(number string, s *scale) {
		a, err := Parse(t.kind, number+" "+s.name, s.name)
		if err != nil || !(lo <= a.SI && a.SI <= hi) || len(list) == 2 {
			return
		}
		for _, have := range list {
			if have == s.label(number) {
				return
			}
		}
		list = append(list, s.label(number))
	}
	for _, name := range t.mixups(typed) {
		s := t.named(name)
		if s != typed && (s.num != typed.num || s.den != typed.den || s.zero != typed.zero) {
			try(number, s)
		}
	}
	sign, plain := "", strings.TrimLeft(number, "+-")
	if strings.HasPrefix(number, "-") {
		sign = "-"
	}
	if strings.ContainsAny(plain, ".,/") || t.whole {
		return list
	}
	for i := len(plain) - 1; i >= -2; i-- { // 1125: 112.5, 11.25, 1.125, .1125, .01125
		if i > 0 {
			try(sign+plain[:i]+"."+plain[i:], typed)
		} else {
			try(sign+"0."+strings.Repeat("0", -i)+plain, typed)
		}
	}
	return list
}

// mixups are the units of a kind that people take for one another, the
// likeliest first.
func (t *table) mixups(typed *scale) []string {
	switch t.kind {
	case KindLength:
		switch typed.name {
		case "ft", "m", "mi", "km":
			return []string{"ft", "m", "in", "mi", "km"}
		}
		return []string{"thou", "mm", "in", "cm"}
	case KindVolume:
		return []string{"cc", "L", "in3"}
	case KindPressure:
		return []string{"psi", "kPa", "bar", "MPa", "inHg"}
	case KindForce:
		return []string{"lbf", "N", "kgf"}
	case KindTorque:
		return []string{"lb-ft", "Nm", "in-lb", "kgf-m"}
	case KindMass:
		return []string{"lb", "kg"}
	}
	return t.names()
}

func (s *scale) label(number string) string {
	if s.name == "" {
		return number
	}
	return number + " " + s.name
}

// bare prints an end of a window: short, no more than four digits that count.
func bare(v float64) string {
	if math.Abs(v) >= 1e4 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return strconv.FormatFloat(v, 'f', -1, 64)
}
