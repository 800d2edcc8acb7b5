package calc

// A PlotPoint is one position round the part, for a drawing.
type PlotPoint struct {
	Degrees float64 // from stud 1, the way the studs are numbered
	Offset  float64 // in m from the zero line; NaN for a missing reading
	Label   string  // the reading as shown
	Stud    int     // the stud nearest to this position, 0 where none is
	Exactly bool    // the stud is at this position, not only near it
}

// Plot draws points as lines of text, one a position.
func Plot(points []PlotPoint, width int, ascii bool) []string { return nil }
