package parting

// spread gives values to the sides whose middle is closed, in rows of so many columns, so that what
// lies between them and the others can be read off: each continues in a straight line what the
// open ones beside it show.
func spread(values, open []float64, columns int) {
	known := make([]bool, len(values))
	for i, share := range open {
		known[i] = share > half
	}
	for range 3 { // a place in the open is at most two sides from the last one whose middle is open
		was := append([]bool(nil), known...)
		for i := range values {
			if was[i] {
				continue
			}
			if v, ok := continued(values, was, columns, i); ok {
				values[i], known[i] = v, true
			}
		}
	}
}

// half a side open leaves its middle open.
const half = 0.5

// continued returns the mean of what the known neighbours of i come to there, and whether there is
// any.
func continued(values []float64, known []bool, columns, i int) (float64, bool) {
	sum, n := 0.0, 0.0
	column := i % columns
	for _, step := range [4]int{-1, 1, -columns, columns} {
		at := func(k int) (int, bool) {
			to := i + k*step
			inRow := step == columns || step == -columns || (column+k*step >= 0 && column+k*step < columns)
			return to, inRow && to >= 0 && to < len(values) && known[to]
		}
		near, ok := at(1)
		if !ok {
			continue
		}
		v := values[near]
		if far, ok := at(2); ok {
			v = 2*values[near] - values[far]
		}
		sum, n = sum+v, n+1
	}
	return sum / n, n > 0
}
