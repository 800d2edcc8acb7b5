package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
	"chock/tree"
	"chock/tree/book"
)

// How a talk uses a vehicle file: a figure comes from what was answered, then
// from the file, else it is asked for.

// fromFile begins the origin of a figure that the vehicle file gave; the
// source in the file follows.
const fromFile = "from the vehicle file: "

// loadCar reads the vehicle file of a talk. A book of somebody else's (own)
// knows other figures than ours, and one file serves both.
func (t *talker) loadCar(path string, own bool) error {
	books := []*tree.Book{t.book}
	if own {
		ours, err := tree.Load(book.FS, calculations())
		if err != nil {
			return err
		}
		books = append(books, ours)
	}
	car, err := openCar(path, books...)
	if err != nil {
		return err
	}
	t.car, t.carPath, t.vehicle = car, path, car.Name
	return nil
}

// openCar reads a vehicle file that has to be there.
func openCar(path string, books ...*tree.Book) (*record.Vehicle, error) {
	car, err := record.LoadVehicle(path, vehicleSlots(vehicleFigures(books...)))
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("%w; begin it with: chock vehicle %s", err, path)
	}
	return car, err
}

// introduce says which vehicle this is, and what in its file cannot be right.
func (t *talker) introduce() {
	if t.car == nil {
		return
	}
	if t.car.Name != "" {
		t.scr.Item(ask.Strong, "Vehicle: ", t.car.Name)
	}
	n := 0
	for _, g := range t.book.Figures {
		if !t.car.Figures[g.ID].Open() {
			n++
		}
	}
	t.scr.Print(ask.Dim, fmt.Sprintf("In %s: %d of the figures that a check may ask for. Another answer here, by change, wins over it.", t.carPath, n))
	for _, odd := range vehicleOf(t.car).Oddities() {
		t.scr.Item(ask.Care, "Mind: ", odd)
	}
	if len(t.complaints) == 0 { // a talk that begins; one gone on with comes to its own blank
		t.scr.Print(ask.Plain, "")
	}
}

// fromCar answers a figure from the vehicle file, and says so. An answers file
// that has the figure is asked first.
func (t *talker) fromCar(g *tree.Figure) bool {
	if t.car == nil {
		return false
	}
	held := t.car.Figures[g.ID]
	if s, ok := t.asker.(*ask.Script); held.Open() || held.Value.Kind != g.Kind || ok && s.Has(g.ID) {
		return false
	}
	t.said = append(t.said, tree.Said{Check: g.ID, Value: held.Value, Origin: fromFile + held.Source})
	t.scr.Print(ask.Dim, upperFirst(plainID(g.ID))+": "+held.Value.Both()+", "+fromFile+held.Source+".")
	return true
}

// heldByCar reports that what stands for a figure came from the vehicle file.
func (t *talker) heldByCar(id string) bool {
	i := -1
	for j := range t.said {
		if t.said[j].Check == id {
			i = j
		}
	}
	return i >= 0 && strings.HasPrefix(t.said[i].Origin, fromFile)
}

// retake drops from a resumed talk the figures for which the vehicle file is
// the better witness: those that came from it before, and those that nobody
// knew then. The file may have been put right meanwhile.
func (t *talker) retake(rec *record.Record) error {
	if t.car == nil {
		return nil
	}
	if rec.Vehicle != "" && t.car.Name != "" && rec.Vehicle != t.car.Name {
		return fmt.Errorf("the record is of %q, and %s is of %q; name the file of that vehicle, or go on without --vehicle", rec.Vehicle, t.carPath, t.car.Name)
	}
	t.vehicle = cmp.Or(t.car.Name, rec.Vehicle)
	better := map[string]bool{}
	for i := range t.said {
		s := &t.said[i]
		switch {
		case t.book.Figures[s.Check] == nil || t.car.Figures[s.Check].Open():
		case strings.HasPrefix(s.Origin, fromFile):
			better[s.Check] = true
		case s.Unsure(): // after a figure from the file it was meant so
			_, before := better[s.Check]
			better[s.Check] = !before
		default:
			better[s.Check] = false
		}
	}
	t.said = slices.DeleteFunc(t.said, func(s tree.Said) bool { return better[s.Check] })
	return nil
}
