// Package brakes turns readings taken on a vehicle's brakes into what they
// mean: how thick a rotor is at its least, how far it runs out, which part of
// that belongs to the hub, and how a value stands against a limit when the
// gauge that read it is itself in doubt.
//
// Everything here is a pure function of its arguments. Each states its
// formula, symbols, units, range and source. Input for which a formula does
// not hold, NaN and infinity among it, is an [*OutOfRange] error.
package brakes
