package parting

import (
	"context"
	"math"
)

// A system is the balance of the cells: each passes to its neighbours the difference of their
// potentials times the open share of the side between them.
type system struct {
	columns      int
	sum          []float64 // of a cell's shares
	right, above []float64 // share of the side to the right of a cell and above it; 0 at the edges
	scale        []float64 // see smooth; 0 for a cell that is closed all round
}

func newSystem(g grid, a apertures) system {
	n := g.columns * g.rows
	s := system{g.columns, make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)}
	for c := range n {
		sides := g.neighbours(c, a)
		s.right[c], s.above[c] = sides[1].share, sides[3].share
		for _, side := range sides {
			s.sum[c] += side.share
		}
		if pivot := s.pivot(c); pivot > 0 {
			s.scale[c] = 1 / pivot
		}
	}
	return s
}

// times sets out to what the potentials p make run out of every cell.
func (s system) times(p, out []float64) {
	for c, sum := range s.sum {
		out[c] = float64(sum * p[c])
	}
	for c, share := range s.right[:len(p)-1] {
		out[c] -= float64(share * p[c+1])
		out[c+1] -= float64(share * p[c])
	}
	for c, share := range s.above[:len(p)-s.columns] {
		out[c] -= float64(share * p[c+s.columns])
		out[c+s.columns] -= float64(share * p[c])
	}
}

// pivot returns the cell's entry on the diagonal of the factor that smooth uses, those of the
// cells before it being known: the incomplete factor that keeps nearly the sums of the rows, of
// I. Gustafsson, A class of first order factorization methods, BIT 18 (1978) 142-156.
func (s system) pivot(c int) float64 {
	const kept, least = 0.97, 0.25 // customary: of what is dropped, and of the diagonal
	pivot := s.sum[c]
	if c > 0 {
		pivot -= float64(s.right[c-1] * s.scale[c-1] * (s.right[c-1] + float64(kept*s.above[c-1])))
	}
	if b := c - s.columns; b >= 0 {
		pivot -= float64(s.above[b] * s.scale[b] * (s.above[b] + float64(kept*s.right[b])))
	}
	if pivot < least*s.sum[c] {
		return s.sum[c]
	}
	return pivot
}

// smooth sets out to nearly the potentials that make r run out of every cell.
func (s system) smooth(r, out []float64) {
	w := s.columns
	for c := range r {
		sum := r[c]
		if c > 0 {
			sum += float64(s.right[c-1] * out[c-1])
		}
		if c >= w {
			sum += float64(s.above[c-w] * out[c-w])
		}
		out[c] = sum * s.scale[c]
	}
	for c := len(r) - 2; c >= 0; c-- {
		sum := float64(s.right[c] * out[c+1])
		if c+w < len(r) {
			sum += float64(s.above[c] * out[c+w])
		}
		out[c] += float64(sum * s.scale[c])
	}
}

// fine is what may be left of the imbalance, in proportion to what there was: a small part of what
// the size of the cells leaves.
const fine = 3e-5

// settle returns the potential that makes b run out of every cell, by the method of conjugate
// gradients of M. R. Hestenes and E. Stiefel, Journal of Research of the National Bureau of
// Standards 49 (1952) 409-436.
func settle(ctx context.Context, g grid, a apertures, b []float64) ([]float64, error) {
	s := newSystem(g, a)
	n := len(b)
	x, r, z, p, q := make([]float64, n), append([]float64(nil), b...), make([]float64, n), make([]float64, n), make([]float64, n)
	enough := fine * math.Sqrt(dot(b, b))
	last := math.Inf(1)
	for round := 0; round < n && math.Sqrt(dot(r, r)) > enough; round++ {
		if round%16 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		s.smooth(r, z)
		now := dot(r, z)
		for c := range p {
			p[c] = z[c] + float64(now/last*p[c])
		}
		last = now
		s.times(p, q)
		step := now / dot(p, q)
		for c := range x {
			x[c] += float64(step * p[c])
			r[c] -= float64(step * q[c])
		}
	}
	return x, nil
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
