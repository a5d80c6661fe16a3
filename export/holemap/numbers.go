package holemap

// NumberedAs returns the map with the numbers that its holes have in an older one, and whether that
// changed any: a hole is the same where it is the same hole of the same piece, moved or not. Those that
// are not in the older map have numbers above all of it.
func (m Map) NumberedAs(old Map) (Map, bool) {
	type key struct{ piece, hole int }
	each := func(holes []Hole, f func(i int, k key)) {
		count := map[int]int{}
		for i, h := range holes {
			f(i, key{h.Piece, count[h.Piece]})
			count[h.Piece]++
		}
	}
	numbers, last := map[key]int{}, 0
	each(old.Holes, func(i int, k key) {
		numbers[k] = old.Holes[i].Number
		last = max(last, old.Holes[i].Number)
	})
	changed := false
	holes := make([]Hole, len(m.Holes))
	each(m.Holes, func(i int, k key) {
		holes[i] = m.Holes[i]
		n, known := numbers[k]
		if !known {
			last++
			n = last
		}
		changed = changed || n != holes[i].Number
		holes[i].Number = n
	})
	m.Holes = holes
	return m, changed
}
