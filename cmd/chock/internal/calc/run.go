package calc

import (
	"errors"

	"chock/brakes/unit"
)

func runThickness(in map[string][]unit.Any) (Result, error) { return Result{}, errors.New("to come") }
func runRunout(in map[string][]unit.Any) (Result, error)    { return Result{}, errors.New("to come") }
func runIndex(in map[string][]unit.Any) (Result, error)     { return Result{}, errors.New("to come") }
func runDrum(in map[string][]unit.Any) (Result, error)      { return Result{}, errors.New("to come") }
