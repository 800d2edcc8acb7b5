package brakes

import (
	"strings"
	"testing"

	"chock/brakes/unit"
)

func own[Q ~float64](v Q) Figure[Q] { return Figure[Q]{Value: v, Mark: Own, Source: "manual"} }

func TestOddities(t *testing.T) {
	const (
		meaning = "the words: a discard limit lies below what may be cut to, that below a new part; a drum wears larger"
		table   = "areas of a circle: 7/8 in against 1 in is 23 in 100; 22 mm against 7/8 in is 2 in 100"
	)
	for _, tt := range []struct {
		name   string
		v      Vehicle
		want   string // "" for none
		source string
	}{
		{"nothing known", Vehicle{}, "", "there is nothing to compare"},
		{"all in order", Vehicle{Front: Axle{RotorNew: own(1.25 * unit.Inch), RotorMachineTo: own(1.19 * unit.Inch), RotorDiscard: own(1.12 * unit.Inch),
			LiningNew: own(10 * unit.Millimetre), LiningLeast: own(2 * unit.Millimetre)}}, "", meaning},
		{"equal limits are none", Vehicle{Front: Axle{RotorMachineTo: own(1.12 * unit.Inch), RotorDiscard: own(1.12 * unit.Inch)}}, "", meaning},
		{"swapped", Vehicle{Front: Axle{RotorMachineTo: own(1.12 * unit.Inch), RotorDiscard: own(1.19 * unit.Inch)}}, "The front rotor's discard thickness, 30.226 mm (1.1900 in), is more than the one to cut to, 28.448 mm (1.1200 in).", meaning},
		{"thinner than scrap", Vehicle{Rear: Axle{RotorNew: own(9 * unit.Millimetre), RotorDiscard: own(10 * unit.Millimetre)}}, "The rear rotor's discard thickness", meaning},
		{"cut above new", Vehicle{Rear: Axle{RotorNew: own(9 * unit.Millimetre), RotorMachineTo: own(10 * unit.Millimetre)}}, "The rear rotor's thickness to cut to", meaning},
		{"drum", Vehicle{Rear: Axle{DrumNew: own(11.09 * unit.Inch), DrumMax: own(11 * unit.Inch)}}, "The rear drum's diameter when new", meaning},
		{"lining", Vehicle{Front: Axle{LiningNew: own(2 * unit.Millimetre), LiningLeast: own(3 * unit.Millimetre)}}, "The front lining's least thickness", meaning},
		{"load", Vehicle{Rear: Axle{LoadEmpty: own(900 * unit.Kilogram), LoadFull: own(600 * unit.Kilogram)}}, "The rear axle weighs more empty", "more weight is more"},
		{"lifted by a load behind", Vehicle{Front: Axle{LoadEmpty: own(900 * unit.Kilogram), LoadFull: own(850 * unit.Kilogram)}}, "", "moments about the rear axle"},
		{"booster", Vehicle{Booster: Fact{"none", Own, "seen"}, BoosterGain: own(unit.Ratio(3))}, "There is no booster", "the words"},
		{"two cylinders", Vehicle{Rear: Axle{WheelCylinderLeft: own(0.875 * unit.Inch), WheelCylinderRight: own(1 * unit.Inch)}}, "The rear wheel cylinders differ: left 22.225 mm (0.8750 in), right 25.400 mm (1.0000 in).", table},
		{"one cylinder in two systems", Vehicle{Rear: Axle{WheelCylinderLeft: own(0.875 * unit.Inch), WheelCylinderRight: own(22 * unit.Millimetre)}}, "", table},
		{"a step the other way", Vehicle{Front: Axle{WheelCylinderLeft: own(1.0625 * unit.Inch), WheelCylinderRight: own(1 * unit.Inch)}}, "The front wheel cylinders differ", table},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("every row names its source")
			}
			got := tt.v.Oddities()
			switch {
			case tt.want == "" && len(got) > 0:
				t.Errorf("got %q, want none", got)
			case tt.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], tt.want)):
				t.Errorf("got %q, want one that begins %q", got, tt.want)
			}
		})
	}
}
