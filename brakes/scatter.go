package brakes

import "math"

// MostPositions is the largest number of positions round a turn that is taken:
// one every ten degrees.
const MostPositions = 36

// rangeMean and range95 are d2(n) and q95(n): the mean of the largest less
// the least of n readings of one and the same thing, and what it exceeds one
// time in twenty, both in standard deviations of one reading. Index 0 is n=2.
//
//	d2(n) = ∫ 1 - Φ(x)ⁿ - (1 - Φ(x))ⁿ dx
//	0.95  = n ∫ φ(x) (Φ(x+q) - Φ(x))ⁿ⁻¹ dx
//
// Source: computed from these integrals, which the test repeats; the test
// also holds them to the control-chart table of d2 and to Harter, Tables of
// Range and Studentized Range, Ann. Math. Stat. 31 (1960), infinite degrees
// of freedom.
var rangeMean = [...]float64{
	1.1284, 1.6926, 2.0588, 2.3259, 2.5344, 2.7044, 2.8472, 2.9700, 3.0775,
	3.1729, 3.2585, 3.3360, 3.4068, 3.4718, 3.5320, 3.5879, 3.6401, 3.6890,
	3.7350, 3.7783, 3.8194, 3.8583, 3.8953, 3.9306, 3.9643, 3.9965, 4.0274,
	4.0570, 4.0855, 4.1129, 4.1393, 4.1648, 4.1894, 4.2132, 4.2362,
}

var range95 = [...]float64{
	2.7718, 3.3145, 3.6332, 3.8577, 4.0301, 4.1696, 4.2863, 4.3865, 4.4741,
	4.5519, 4.6217, 4.6849, 4.7427, 4.7959, 4.8452, 4.8910, 4.9337, 4.9739,
	5.0117, 5.0474, 5.0812, 5.1133, 5.1439, 5.1730, 5.2009, 5.2275, 5.2531,
	5.2777, 5.3013, 5.3241, 5.3460, 5.3672, 5.3877, 5.4075, 5.4267,
}

// ScatterMean is what n readings of a perfectly even part show as their
// largest less least, on average: d2(n) times the noise of one reading. n is
// 2 to [MostPositions]; beyond them the nearest of the two is taken.
func ScatterMean[Q ~float64](n int, noise Q) Q {
	return times(rangeMean[min(max(n, 2), MostPositions)-2], noise)
}

// ScatterMost is what they show one time in twenty: q95(n) times the noise. A
// largest less least below it is no more than the gauge's own scatter.
func ScatterMost[Q ~float64](n int, noise Q) Q {
	return times(range95[min(max(n, 2), MostPositions)-2], noise)
}

// LessScatter takes from a largest-less-least r what the noise of n readings
// adds to it on average.
//
//	sqrt(r² - (d2(n) noise)²), 0 where noise alone would show more
//
// Source: subtraction of independent contributions in quadrature; our choice,
// exact only where the two are independent.
func LessScatter[Q ~float64](r Q, n int, noise Q) Q {
	all, m := float64(r), float64(ScatterMean(n, noise))
	return Q(math.Sqrt(max(0, all*all-m*m)))
}
