package tree

// Sweep works out what every check tells, for a benchmark.
func (b *Book) Sweep(bl *Belief) int {
	n := 0
	for _, list := range b.weights().rows {
		n++
		for _, r := range list {
			bl.gain(r)
		}
	}
	return n
}

// Weights works the evidence out anew, for a benchmark.
func (b *Book) Weights() {
	b.evidence = nil
	b.weights()
}
