package calc

import (
	"slices"
	"strings"
	"testing"
)

// What would settle it, in each of its forms. The numbers are those of
// brakes.Settle, whose test tries every number of readings; here it is the
// words and that the right gauge is asked about.
func TestSettleIsSaid(t *testing.T) {
	for _, tt := range []struct {
		name, calc, unit string
		flags            []string
		want             string // all lines about it
	}{
		{"readings alone", "rotor-thickness", "in", []string{"thickness", "1.1206 1.1208 1.1210 1.1212 1.1214 1.1213 1.1211 1.1209", "discard", "1.1204", "variation-limit", "0.002"},
			"Too near the discard thickness for this gauge. Until that is settled count it as worn.|" +
				"What would settle it, if the value stays: 2 readings of the thinnest place, averaged.|" +
				"Averaging evens out the hand. The gauge's own error stays."},
		{"a finer gauge", "rotor-thickness", "in", []string{"thickness", "1.122 1.122 1.122 1.122 1.122 1.122 1.123 1.123", "discard", "1.121", "variation-limit", "0.005"},
			"Too near the discard thickness for this gauge. Until that is settled count it as worn.|" +
				"What would settle it, if the value stays: a micrometer that steps 0.50 thou (0.013 mm)."},
		{"in millimetres", "rotor-thickness", "mm", []string{"thickness", "24.42 24.42 24.43 24.43 24.43 24.44 24.44 24.43", "discard", "24.41", "variation-limit", "0.1"},
			"Too near the discard thickness for this gauge. Until that is settled count it as worn.|" +
				"What would settle it, if the value stays: a micrometer that steps 0.0010 mm (0.039 thou)."},
		{"on the limit", "rotor-thickness", "mm", []string{"thickness", "24.42 24.42 24.43 24.43 24.43 24.44 24.44 24.43", "discard", "24.42", "variation-limit", "0.1"},
			"Too near the discard thickness for this gauge. Until that is settled count it as worn.|" +
				"No gauge settles it: the value lies on the limit itself."},
		{"its own error", "rotor-thickness", "mm", []string{"thickness", "24.420 24.420 24.431 24.431 24.431 24.441 24.442 24.433", "discard", "24.418", "gauge-error", "0.02", "variation-limit", "0.1"},
			"Too near the discard thickness for this gauge. Until that is settled count it as worn.|" +
				"Averaging does not settle it: the gauge itself may be off by more than there is room. It takes one with a smaller error."},
		{"makers differ", "rotor-runout", "thou", []string{"dial", "0.0 1.4 2.0 1.4 0.0 -1.4 -2.0 -1.4"},
			"Makers differ here: some allow it, some do not. Look up the figure for this vehicle."},
		{"the stand moved", "rotor-runout", "thou", []string{"dial", "0.0 1.4 2.0 1.4 0.0 -1.4 -2.0 -1.4", "closing", "1.0", "runout-limit", "4.5"},
			"No finer gauge settles it: the stand or the part moved by more than there is room. Hold it still and read again."},
		{"a step as coarse as the limit", "rotor-runout", "thou", []string{"dial", "0 1 1 0 0 -1 -1 0", "runout-limit", "2"},
			"Read once, a gauge stepping 1.0 thou (0.025 mm) cannot judge 2.0 thou (0.051 mm).|" +
				"What would settle it, if the value stays: a dial that steps 0.50 thou (0.013 mm); or 5 readings of each place, averaged."},
		{"a rule", "lining-wear", "mm", []string{"inner", "2.0", "outer", "3.0"},
			"Too near the least for this reading. Until that is settled count it as worn out.|" +
				"What would settle it, if the value stays: a caliper with a depth rod that steps 0.020 mm (0.79 thou); or 2 readings of the thinnest place, averaged.|" +
				"Averaging evens out the hand. The gauge's own error stays."},
		{"a drum", "drum-diameter", "mm", []string{"open", "281.9 281.9 281.8 281.9", "discard", "282"},
			"Too near the largest diameter for this gauge. Until that is settled count it as worn out.|" +
				"What would settle it, if the value stays: a drum micrometer that steps 0.020 mm (0.79 thou)."},
		{"the index", "rotor-index", "mm", []string{"dial", "0.000 0.040 0.050 0.020 -0.030 -0.070 -0.080 -0.050", "dial-moved", "0.000 -0.015 -0.025 -0.020 -0.005 0.010 0.020 0.015", "studs", "5", "moved", "2", "runout-limit", "0.048"},
			"What would settle it, if the value stays: 5 readings of each place with a dial that steps 0.0010 mm (0.039 thou), averaged.|" +
				"Averaging evens out the hand. The gauge's own error stays."},
		{"no more than scatter", "rotor-runout", "thou", []string{"dial", "0 1 1 0 0 -1 -1 0", "runout-limit", "0.3"},
			"Read once, a gauge stepping 1.0 thou (0.025 mm) cannot judge 0.30 thou (0.0076 mm).|What would settle it, if the value stays: a dial that steps 0.50 thou (0.013 mm)."},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := run(t, tt.calc, tt.unit, tt.flags...)
			var got []string
			for _, line := range r.Say {
				for _, mark := range []string{"settle", "Averaging", "Makers differ", "cannot judge"} {
					if strings.Contains(line, mark) {
						got = append(got, line)
						break
					}
				}
			}
			if s := strings.Join(got, "|"); s != tt.want {
				t.Errorf("says\n%s\nwant\n%s\nverdicts %+v", strings.Join(got, "\n"), strings.ReplaceAll(tt.want, "|", "\n"), r.Verdicts)
			}
		})
	}
}

// A verdict that is not too close has nothing to settle.
func TestNothingToSettle(t *testing.T) {
	for _, flags := range [][]string{
		{"thickness", eight, "discard", "1.115 in", "variation-limit", "1 thou"},
		{"thickness", eight, "discard", "1.2 in", "variation-limit", "1 thou"},
		{"thickness", eight},
	} {
		r := run(t, "rotor-thickness", "", flags...)
		if slices.ContainsFunc(r.Say, func(s string) bool { return strings.Contains(s, "settle") }) {
			t.Errorf("%v: %q", flags, r.Say)
		}
	}
}
