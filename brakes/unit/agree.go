package unit

import "math"

// PairAgrees holds the two numbers of a printed pair, such as "0.05 mm (0.002
// in)", against each other. Both texts may leave out their unit.
//
//	Within    they differ by half the last digit of the finer one at most
//	TooClose  by half the last digit of the coarser one: it was rounded, so
//	          the finer one is the one to use
//	Outside   by more: one of the two is a misprint; ask which one is meant
//
// A fiftieth of that half digit is let pass on top, for a pair that was
// rounded twice. The rule is ours; manuals do print wrong pairs.
func PairAgrees(mm, in string) (Verdict, error) {
	a, err := Parse(KindLength, mm, "mm")
	if err != nil {
		return NoLimit, err
	}
	b, err := Parse(KindLength, in, "in")
	if err != nil {
		return NoLimit, err
	}
	const little = 1.02
	apart := math.Abs(a.SI - b.SI)
	switch {
	case apart <= little*min(a.Resolution, b.Resolution)/2:
		return Within, nil
	case apart <= little*max(a.Resolution, b.Resolution)/2:
		return TooClose, nil
	}
	return Outside, nil
}
