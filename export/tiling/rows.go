package tiling

import (
	"cmp"
	"math"
	"slices"
)

// A rowCut is how the holes between two lines across a face are cut into sheets.
type rowCut struct {
	lefts []float64 // where its sheets start across
	tops  []float64 // where each of them starts downwards
	paid  toll
}

// A rowSearch looks for the rows in which a face takes the fewest sheets, and of those for the ones
// that leave the fewest holes near a seam.
type rowSearch struct {
	across, down axis
	byY, byX     []placed  // the holes in order down the face, and across it
	drop         float64   // how far a sheet may start below the line of its row, mm
	rise         float64   // and above it
	at           []float64 // where a row may start
	least        [][]int   // of a row from one candidate to one after it the least sheets; as far as a sheet reaches
	rows         map[[2]int]rowCut
}

// mostRows is how many rows are cut in search of the best ones, before the rows of the least count
// are taken.
const mostRows = 12_000

// mostMore is how many sheets more than the least count the search looks for.
const mostMore = 40

// newRowSearch makes a search over holes in any order, as seen down the face.
func newRowSearch(across, down axis, holes []placed) *rowSearch {
	along := func(a, b placed) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.across, b.across)) }
	r := &rowSearch{across: across, down: down, byY: slices.Clone(holes), rows: map[[2]int]rowCut{}}
	slices.SortFunc(r.byY, along)
	for _, h := range r.byY {
		r.byX = append(r.byX, placed{at: h.across, across: h.at, reach: h.reach})
	}
	slices.SortFunc(r.byX, along)
	r.at = down.candidates(r.byY)
	r.least = make([][]int, len(r.at))
	for i := range r.at {
		r.least[i] = r.leastFrom(i)
	}
	return r
}

// leastFrom returns of every row from candidate i to one after it, or past the last, how many sheets
// it takes at least; -1 where no row can end.
func (r *rowSearch) leastFrom(i int) []int {
	s, k, n := r.at[i], firstFrom(r.byY, r.at[i]), 0
	var xs []float64
	var out []int
	for t := i + 1; t <= len(r.at); t++ {
		fresh := false
		for ; k < len(r.byY) && (t == len(r.at) || r.byY[k].at < r.at[t]); k++ {
			if r.byY[k].at >= s+r.down.pitch {
				return out
			}
			j, _ := slices.BinarySearch(xs, r.byY[k].across)
			xs = slices.Insert(xs, j, r.byY[k].across)
			fresh = true
		}
		if fresh {
			n = r.across.leastBands(xs)
		}
		if t < len(r.at) && !r.down.follows(s, r.at[t]) {
			out = append(out, -1)
			continue
		}
		out = append(out, n)
	}
	return out
}

// best returns the rows, each with the line at which it starts; none where no rows hold all holes, or
// they take more than so many sheets. It tries ever more sheets, from the least count on, and cuts only
// rows that a way of so few can have.
func (r *rowSearch) best(atMost int) (lines []float64, rows []rowCut) {
	before := r.before()
	lowest := before[len(r.at)]
	if lowest == math.MaxInt {
		return nil, nil
	}
	for most := lowest; most <= lowest+mostMore; most++ {
		if most > atMost {
			return nil, nil
		}
		if starts, found := r.within(most, before, r.cut); found {
			return r.of(starts)
		}
		if len(r.rows) > mostRows {
			break
		}
	}
	starts, _ := r.within(math.MaxInt, before, r.counted)
	return r.of(starts)
}

// before returns how many sheets the holes above each candidate take at least, and those above the end.
func (r *rowSearch) before() []int {
	out := make([]int, len(r.at)+1)
	for i := range out {
		out[i] = math.MaxInt
		if i < len(r.at) && r.at[i] <= r.byY[0].at {
			out[i] = 0
		}
	}
	for i := range r.at {
		for n, sheets := range r.least[i] {
			if sheets >= 0 && out[i] < math.MaxInt {
				out[i+1+n] = min(out[i+1+n], out[i]+sheets)
			}
		}
	}
	return out
}

// within returns the candidates at which rows start that take so many sheets at most, at the least
// toll, and whether there are such. From every candidate, the last first, each start of the next row is
// tried, unless even the least count makes it dearer; of two that cost the same the later one is taken.
func (r *rowSearch) within(most int, before []int, price func(i, t int) toll) (starts []int, found bool) {
	end := len(r.at)
	best, next := make([]toll, end+1), make([]int, end)
	start := -1
	for i := end - 1; i >= 0; i-- {
		best[i] = tollMost
		if before[i] == math.MaxInt {
			continue
		}
		for n, sheets := range slices.Backward(r.least[i]) {
			t := i + 1 + n
			if sheets < 0 || best[t] == tollMost || before[i]+sheets+int(best[t]/tollSheet) > most ||
				toll(sheets)*tollSheet+best[t] >= best[i] {
				continue
			}
			if sum := plus(price(i, t), best[t]); sum < best[i] {
				best[i], next[i] = sum, t
			}
		}
		if r.at[i] <= r.byY[0].at && best[i] < tollMost && int(best[i]/tollSheet) <= most && (start < 0 || best[i] <= best[start]) {
			start = i
		}
	}
	if start < 0 {
		return nil, false
	}
	for i := start; i < end; i = next[i] {
		starts = append(starts, i)
	}
	return starts, true
}

// counted is the price of a row by the least count alone.
func (r *rowSearch) counted(i, t int) toll {
	return tollBand + toll(r.least[i][t-i-1])*tollSheet
}

// cut is the price of a row as it is cut.
func (r *rowSearch) cut(i, t int) toll {
	key := [2]int{i, t}
	c, known := r.rows[key]
	if !known {
		c = r.cutRow(i, t)
		r.rows[key] = c
	}
	return plus(c.paid, tollBand)
}

// of returns the rows that start at some candidates.
func (r *rowSearch) of(starts []int) (lines []float64, rows []rowCut) {
	for n, i := range starts {
		t := len(r.at)
		if n+1 < len(starts) {
			t = starts[n+1]
		}
		if r.cut(i, t) == tollMost {
			return nil, nil
		}
		lines, rows = append(lines, r.at[i]), append(rows, r.rows[[2]int{i, t}])
	}
	return lines, rows
}

// cutRow cuts the holes from one candidate to another, or past the last, into sheets: as few as can be,
// and of those the ones with the fewest holes near where they start.
func (r *rowSearch) cutRow(i, t int) rowCut {
	from, to := r.at[i], math.Inf(1)
	if t < len(r.at) {
		to = r.at[t]
	}
	own := r.between(from, to)
	if len(own) == 0 {
		return rowCut{}
	}
	lefts := r.across.starts(own)
	if len(lefts) == 0 {
		return rowCut{paid: tollMost}
	}
	out := rowCut{lefts: lefts}
	strip := r.byY[firstFrom(r.byY, from-r.rise-mostReach):firstFrom(r.byY, from+r.drop+mostReach)]
	beside := r.between(from-SeamAir, to+SeamAir)
	k := 0
	for n, left := range lefts {
		right := left + r.across.pitch
		if n+1 < len(lefts) {
			right = math.Min(right, lefts[n+1])
		}
		first := k
		for k < len(own) && own[k].at < right {
			k++
		}
		if first == k { // a sheet that only leads to the next one holds nothing, and is not printed
			out.tops = append(out.tops, from)
			continue
		}
		last := slices.MaxFunc(own[first:k], func(p, q placed) int { return cmp.Compare(p.across, q.across) }).across
		top, paid := r.top(from, to, last, about(strip, left, right))
		out.tops = append(out.tops, top)
		out.paid += tollSheet + r.across.near(left, firstFrom(beside, left), beside) + paid
	}
	return out
}

// between returns the holes from one line across the face to another, in order across it.
func (r *rowSearch) between(from, to float64) []placed {
	out := make([]placed, 0, 64)
	for _, h := range r.byX {
		if h.across >= from && h.across < to {
			out = append(out, h)
		}
	}
	return out
}

// about returns the holes that lie between two places across the face, or nearly so.
func about(holes []placed, left, right float64) []placed {
	var out []placed
	for _, h := range holes {
		if h.across > left-SeamAir && h.across < right+SeamAir {
			out = append(out, h)
		}
	}
	return out
}

// top returns where one sheet of a row starts, and what that costs: at the line of the row, or a little
// above or below it where a hole about it lies near the line, but not so near to another one. No hole
// changes its row by that, and the sheets above still reach below where it starts.
func (r *rowSearch) top(line, next, last float64, about []placed) (top float64, paid toll) {
	own := firstFrom(about, line)
	top, paid = line, r.down.near(line, own, about)
	for far := r.down.step; paid > 0 && far <= math.Max(r.rise, r.drop)+Speck; far += r.down.step {
		for _, to := range []float64{line - far, line + far} {
			high := to < line
			switch {
			case high && far > r.rise+Speck, !high && far > r.drop+Speck, firstFrom(about, to) != own,
				high && (last >= to+r.down.pitch || !math.IsInf(next, 1) && !r.down.follows(to, next)):
				continue
			}
			if p := r.down.near(to, own, about); p < paid {
				top, paid = to, p
			}
		}
	}
	return top, paid
}
