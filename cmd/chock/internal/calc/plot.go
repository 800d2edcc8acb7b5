package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// A PlotPoint is one position round the part, for a drawing.
type PlotPoint struct {
	Degrees float64 // from stud 1, the way the studs are numbered
	Offset  float64 // in m from the zero line; NaN for a missing reading
	Label   string  // the reading as shown
	Stud    int     // the stud nearest to this position, 0 where none is
	Exactly bool    // the stud is at this position, not only near it
}

// The narrowest and widest drawing, in columns.
const (
	plotNarrowest = 34
	plotWidest    = 100
)

// Plot draws points as lines of text, one a position: degrees, the reading
// left or right of a zero line, its value, and the stud where one is near.
//
//	 0 deg         #        0.0  stud 1
//	45             |  #     1.6
//
// Widths outside 34 to 100 columns are taken as the nearer end.
func Plot(points []PlotPoint, width int, ascii bool) []string {
	width = min(max(width, plotNarrowest), plotWidest)
	mark, line := "█", "│"
	if ascii {
		mark, line = "#", "|"
	}
	var low, high float64
	label, studs := 0, false
	for _, p := range points {
		if !math.IsNaN(p.Offset) {
			low, high = min(low, p.Offset), max(high, p.Offset)
		}
		label = max(label, len(p.Label))
		studs = studs || p.Stud > 0
	}
	deg := " deg"
	if width < 46 {
		deg = ""
	}
	bar := width - len("360") - len(deg) - 2 - label - 1
	if studs {
		bar -= len("  stud 1")
	}
	bar = min(max(bar, 3), 48)
	column := func(v float64) int {
		if high == low {
			return bar / 2
		}
		return int(math.Round((v - low) / (high - low) * float64(bar-1)))
	}
	var lines []string
	for i, p := range points {
		cells := make([]string, bar)
		for c := range cells {
			cells[c] = " "
		}
		cells[column(0)] = line
		if !math.IsNaN(p.Offset) {
			cells[column(p.Offset)] = mark
		}
		text := fmt.Sprintf("%3.0f", p.Degrees)
		if i == 0 {
			text += deg
		} else {
			text += strings.Repeat(" ", len(deg))
		}
		text += "  " + strings.Join(cells, "") + " " + strings.Repeat(" ", label-len(p.Label)) + p.Label
		if p.Stud > 0 {
			word := "near"
			if p.Exactly {
				word = "stud"
			}
			text += fmt.Sprintf("  %s %d", word, p.Stud)
		}
		lines = append(lines, strings.TrimRight(text, " "))
	}
	return lines
}

// plotOf makes the points of a turn: offsets from zero, labels in the fine
// unit or, for thicknesses, the coarse one. studs is 0 where it is not known.
func plotOf(t brakes.Turn, zero unit.Length, studs int, label func(unit.Length) string) []PlotPoint {
	points := make([]PlotPoint, t.Positions)
	for i := range points {
		points[i] = PlotPoint{Degrees: t.At(i).Degrees(), Offset: math.NaN(), Label: "-"}
	}
	for _, p := range t.Points {
		points[p.Position].Offset = float64(p.Value - zero)
		points[p.Position].Label = label(p.Value)
	}
	if studs == 0 {
		points[0].Stud, points[0].Exactly = 1, true
		return points
	}
	for k := range studs {
		at := float64(k) * float64(t.Positions) / float64(studs)
		i := int(math.Round(at)) % t.Positions
		if points[i].Stud == 0 {
			points[i].Stud = k + 1
			points[i].Exactly = math.Abs(at-math.Round(at)) < 1e-9
		}
	}
	return points
}
