package brakes

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"chock/brakes/unit"
)

// HighestOrder is the highest order reported: beyond six times a turn the
// cause is hot spots, which are counted by eye. Twelve positions cannot tell
// eleven or thirteen times a turn from once.
const HighestOrder = 6

// mostFitted numbers are fitted to a turn: the mean, two for an order, and one
// for the half-blind one.
const mostFitted = 2*HighestOrder + 2

// FewestForOrders is the number of readings below which no orders are given.
const FewestForOrders = 5

// An Order is the part of a turn's readings that comes and goes a whole
// number of times a turn.
type Order struct {
	Times     int
	Amplitude unit.Length // half of the difference between its high and low
	High      unit.Angle  // its first high spot, 0 up to 360/Times degrees; 0 where there is no amplitude
	// HalfBlind marks the order that is half the number of positions. Every
	// reading may have hit it on its slope: the amplitude is the least that
	// fits, and where it is high is not known.
	HalfBlind bool
	// Share is its part of the readings' variance, 0 to 1.
	Share float64
	// gain is the standard uncertainty of the amplitude for readings whose
	// noise is 1.
	gain float64
}

// Doubt is the standard uncertainty of the amplitude when one reading has the
// given noise.
//
//	s sqrt(2/N) for N readings at equal spacing, more where some are missing
//
// Source: least squares with independent noise (GUM H.3).
func (o Order) Doubt(noise unit.Length) unit.Length {
	return times(o.gain, noise)
}

// FromNoise is the amplitude that noise alone exceeds one time in twenty.
//
//	s sqrt(2/N) sqrt(2 ln 20)
//
// Source: the amplitude of pure noise follows Rayleigh's distribution. (The
// half-blind order has one component, and 1.96 takes the place of the root.)
func (o Order) FromNoise(noise unit.Length) unit.Length {
	if o.HalfBlind {
		return times(1.96*o.gain, noise)
	}
	return times(rayleigh95*o.gain, noise)
}

// rayleigh95 is what a Rayleigh-distributed amplitude of unit noise exceeds one
// time in twenty.
var rayleigh95 = math.Sqrt(2 * math.Log(20))

// A Spectrum is a turn of readings taken apart into orders.
type Spectrum struct {
	Mean   unit.Length
	Orders []Order // 1, 2, ... without gaps
	// Left is the standard deviation of what the orders do not explain, with
	// Spare readings more than numbers fitted. Without any to spare it is 0.
	Left  unit.Length
	Spare int
}

// Order returns the part that comes the given number of times a turn.
func (s Spectrum) Order(times int) (Order, bool) {
	if times < 1 || times > len(s.Orders) {
		return Order{}, false
	}
	return s.Orders[times-1], true
}

// Harmonics takes readings round one turn apart into orders 1 to highest (0:
// as many as can be told, up to [HighestOrder]).
//
//	y(θ) = m + Σ a_n cos nθ + b_n sin nθ
//	A_n  = sqrt(a_n² + b_n²),  high spot at atan2(b_n, a_n)/n
//
// y reading in m, θ angle from stud 1 in the direction in which the studs are
// numbered, m mean; a and b by least squares, which for a full turn of N
// equally spaced readings is the discrete Fourier series. N readings tell
// orders up to (N-1)/2, and with even N half-blindly N/2. Where positions are
// missing, orders are left out until noise grows by no more than half in those
// that stay; order 1 alone stays while its noise is no more than a reading's.
// A gap too wide even for that leaves no orders, and no mean.
//
// Five to 36 readings. Source: roundness measurement as in ISO 12181-2
// (undulations per revolution); checked against NIST StRD, data set ENSO.
func Harmonics(t Turn, highest int) (Spectrum, error) {
	if err := t.check(FewestForOrders); err != nil {
		return Spectrum{}, err
	}
	if highest < 0 || highest > HighestOrder {
		return Spectrum{}, &OutOfRange{"highest order", fmt.Sprint(highest), fmt.Sprintf("1 to %d, or 0", HighestOrder)}
	}
	return spectrum(t, highest), nil
}

// spectrum is Harmonics for a turn that has been checked; three readings are
// enough for order 1.
func spectrum(t Turn, highest int) Spectrum {
	m := len(t.Points)
	if highest == 0 {
		highest = HighestOrder
	}
	full := m == t.Positions
	blind := full && m%2 == 0 && m/2 <= highest
	top := min(highest, (m-1)/2)
	for ; top > 0; top-- {
		s, ok := fit(t, top, blind)
		worst := 1.5 * math.Sqrt(2/float64(m))
		if top == 1 {
			worst = 1 // a tilt is worth knowing to the noise of one reading
		}
		if full || ok && !slices.ContainsFunc(s.Orders, func(o Order) bool { return o.gain > worst*(1+1e-9) }) {
			return s
		}
	}
	return Spectrum{}
}

// fit is the least-squares fit of orders 1 to top, and of the half-blind one.
func fit(t Turn, top int, blind bool) (Spectrum, bool) {
	// Readings are fitted as differences from the first one, so that equal
	// readings give exact zeros and a thick rotor costs no digits.
	base := t.Points[0].Value
	var room [MostPositions]float64
	y := room[:len(t.Points)]
	for i, p := range t.Points {
		y[i] = float64(p.Value - base)
	}
	var mean, variance float64
	for _, v := range y {
		mean += v / float64(len(y))
	}
	for _, v := range y {
		variance += (v - mean) * (v - mean) / float64(len(y))
	}
	var roomFor [2][mostFitted]float64
	coef, cov := roomFor[0][:0], roomFor[1][:0]
	var rss float64
	if len(y) == t.Positions {
		coef, cov, rss = fullFit(y, top, blind, coef, cov)
	} else {
		var ok bool
		if coef, cov, rss, ok = leastSquares(design(t, top, blind), y); !ok {
			return Spectrum{}, false
		}
	}
	least, largest := t.ends()
	spread := float64(largest.Value - least.Value)
	s := Spectrum{Mean: base + unit.Length(coef[0]), Spare: len(y) - len(coef), Orders: make([]Order, 0, top+1)}
	if s.Spare > 0 {
		s.Left = unit.Length(math.Sqrt(rss / float64(s.Spare)))
	}
	for n := 1; n <= top; n++ {
		o := Order{Times: n, gain: math.Sqrt((cov[2*n-1] + cov[2*n]) / 2)}
		a, b := coef[2*n-1], coef[2*n]
		if amp := math.Hypot(a, b); amp > 1e-9*spread {
			o.Amplitude = unit.Length(amp)
			o.High = unit.Angle(wrap(math.Atan2(b, a), 2*math.Pi) / float64(n))
			o.Share = min(1, amp*amp/2/variance)
		}
		s.Orders = append(s.Orders, o)
	}
	if blind {
		o := Order{Times: t.Positions / 2, HalfBlind: true, gain: math.Sqrt(cov[len(cov)-1])}
		a := coef[len(coef)-1]
		if math.Abs(a) > 1e-9*spread {
			o.Amplitude = unit.Length(math.Abs(a))
			if a < 0 {
				o.High = unit.Angle(math.Pi / float64(o.Times))
			}
			o.Share = min(1, a*a/variance)
		}
		s.Orders = append(s.Orders, o)
	}
	return s, true
}

// A clock holds cosine and sine of each position of a full turn. The angle of
// order n at a position is that of a whole number of positions: order 6 at
// position 11 of 12 is position 6, to the last bit.
type clock struct {
	once     sync.Once
	cos, sin []float64
}

var clocks [MostPositions + 1]clock

func clockOf(positions int) *clock {
	c := &clocks[positions]
	c.once.Do(func() {
		c.cos, c.sin = make([]float64, positions), make([]float64, positions)
		for i := range positions {
			c.sin[i], c.cos[i] = math.Sincos(2 * math.Pi * float64(i) / float64(positions))
		}
	})
	return c
}

// fullFit is the fit to a full turn, where the columns of [design] are at right
// angles and each coefficient is a mean of its own.
// It appends to the two slices that it is given.
func fullFit(y []float64, top int, blind bool, coef, cov []float64) (_, _ []float64, rss float64) {
	n := float64(len(y))
	sum := 0.0
	for _, v := range y {
		sum += v
	}
	coef, cov = append(coef, sum/n), append(cov, 1/n)
	c := clockOf(len(y))
	for k := 1; k <= top; k++ {
		a, b, at := 0.0, 0.0, 0
		for _, v := range y {
			a += v * c.cos[at]
			b += v * c.sin[at]
			if at += k; at >= len(y) {
				at -= len(y)
			}
		}
		coef, cov = append(coef, 2*a/n, 2*b/n), append(cov, 2/n, 2/n)
	}
	if blind {
		a := 0.0
		for i, v := range y {
			a += v * float64(1-2*(i%2))
		}
		coef, cov = append(coef, a/n), append(cov, 1/n)
	}
	if len(coef) < len(y) {
		for i, v := range y {
			v -= coef[0]
			for k := 1; k <= top; k++ {
				at := k * i % len(y)
				v -= coef[2*k-1]*c.cos[at] + coef[2*k]*c.sin[at]
			}
			if blind {
				v -= coef[len(coef)-1] * float64(1-2*(i%2))
			}
			rss += v * v
		}
	}
	return coef, cov, rss
}

// design has a row for each reading and a column for each number fitted.
func design(t Turn, top int, blind bool) [][]float64 {
	c := clockOf(t.Positions)
	x := make([][]float64, len(t.Points))
	for i, p := range t.Points {
		row := make([]float64, 1, 2*top+2)
		row[0] = 1
		for n := 1; n <= top; n++ {
			at := n * p.Position % t.Positions
			row = append(row, c.cos[at], c.sin[at])
		}
		if blind {
			row = append(row, float64(1-2*(p.Position%2)))
		}
		x[i] = row
	}
	return x
}

// leastSquares solves x c = y for the c that leaves the least sum of squares
// rss. cov is the variance of each c for readings of variance 1. It is not ok
// where the columns of x do not tell the c apart. x and y are used up.
//
// Householder's reduction; Golub and Van Loan, Matrix Computations, section
// 5.3 (from memory).
func leastSquares(x [][]float64, y []float64) (c, cov []float64, rss float64, ok bool) {
	rows, cols := len(x), len(x[0])
	if rows < cols {
		return nil, nil, 0, false
	}
	for k := range cols {
		norm := 0.0
		for i := k; i < rows; i++ {
			norm = math.Hypot(norm, x[i][k])
		}
		if norm < 1e-9 {
			return nil, nil, 0, false
		}
		if x[k][k] > 0 {
			norm = -norm
		}
		// v = x_k - norm e_k reflects column k onto norm e_k.
		v := make([]float64, rows)
		vv := 0.0
		for i := k; i < rows; i++ {
			v[i] = x[i][k]
			if i == k {
				v[i] -= norm
			}
			vv += v[i] * v[i]
		}
		reflect := func(get func(i int) *float64) {
			dot := 0.0
			for i := k; i < rows; i++ {
				dot += v[i] * *get(i)
			}
			for i := k; i < rows; i++ {
				*get(i) -= 2 * dot / vv * v[i]
			}
		}
		for j := k; j < cols; j++ {
			reflect(func(i int) *float64 { return &x[i][j] })
		}
		reflect(func(i int) *float64 { return &y[i] })
	}
	c = make([]float64, cols)
	for k := cols - 1; k >= 0; k-- {
		c[k] = y[k]
		for j := k + 1; j < cols; j++ {
			c[k] -= x[k][j] * c[j]
		}
		c[k] /= x[k][k]
	}
	for _, v := range y[cols:] {
		rss += v * v
	}
	// cov = diagonal of (RᵀR)⁻¹: the squared rows of R⁻¹.
	cov = make([]float64, cols)
	inv := make([]float64, cols)
	for j := range cols { // column j of R⁻¹
		for k := j; k >= 0; k-- {
			inv[k] = 0
			if k == j {
				inv[k] = 1
			}
			for i := k + 1; i <= j; i++ {
				inv[k] -= x[k][i] * inv[i]
			}
			inv[k] /= x[k][k]
			cov[k] += inv[k] * inv[k]
		}
	}
	return c, cov, rss, true
}
