package mixing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"wallshoal/scatter/neighbour"
	"wallshoal/wall/plane"
)

// plots divide a room among families: every place belongs to the nearest middle of one on its face.
type plots struct {
	beds []bed // by face
}

// A bed is the plots of one face, in cells about as wide as they are.
type bed struct {
	box           plane.Rect
	width         float64
	columns, rows int
	middles       []plane.Point
	species       []int
	cells         [][]int32
}

// layOut returns plots for families of about size, so many for each species as its quota holds
// families, with equals apart from one another. They are spread as the sample is.
func layOut(size int, quotas []int, sample []neighbour.Place, rng *rand.Rand) plots {
	var species []int // of each plot
	for s, q := range quotas {
		if q > 0 {
			for range max(1, (q+size/2)/max(size, 1)) {
				species = append(species, s)
			}
		}
	}
	var faces [][]plane.Point
	for _, p := range sample {
		for p.Face >= len(faces) {
			faces = append(faces, nil)
		}
		faces[p.Face] = append(faces[p.Face], p.At)
	}
	p := plots{beds: make([]bed, len(faces))}
	var middles []neighbour.Place
	for f, n := range parts(len(species), faces) {
		p.beds[f] = newBed(faces[f], n, rng)
		for _, m := range p.beds[f].middles {
			middles = append(middles, neighbour.Place{Face: f, At: m})
		}
	}
	keepApart(species, len(quotas), middles, rng)
	for f := range p.beds {
		n := len(p.beds[f].middles)
		p.beds[f].species, species = species[:n], species[n:]
	}
	return p
}

// keepApart shuffles species among the plots so that few equals are neighbours.
func keepApart(species []int, kinds int, middles []neighbour.Place, rng *rand.Rand) {
	rng.Shuffle(len(species), func(i, j int) { species[i], species[j] = species[j], species[i] })
	pair := make([]int32, kinds*kinds)
	for s := range kinds {
		pair[s*kinds+s] = sameOf
	}
	of := species[:len(middles)]
	newSearch(neighbour.Of(middles, nil), of, pair, nil, kinds, func(int, int) bool { return true }, rng).run()
}

// parts divides n among the faces by how many points each has, by largest remainders.
func parts(n int, faces [][]plane.Point) []int {
	out := make([]int, len(faces))
	total := 0
	for _, f := range faces {
		total += len(f)
	}
	if total == 0 {
		return out
	}
	order := make([]int, len(faces))
	left := n
	for f := range faces {
		order[f] = f
		out[f] = n * len(faces[f]) / total
		left -= out[f]
	}
	rest := func(f int) int { return n * len(faces[f]) % total }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest(b), rest(a)) })
	for _, f := range order[:left] {
		out[f]++
	}
	return out
}

// settlings is how often middles move to the centroid of the points nearest them (the method of S.
// Lloyd, IEEE Transactions on Information Theory 28 (1982) 129-137): often enough for plots of an
// even size, and too seldom for a honeycomb.
const settlings = 3

// newBed returns n plots over points, of about as many points each.
func newBed(points []plane.Point, n int, rng *rand.Rand) bed {
	n = min(n, len(points))
	if n == 0 {
		return bed{}
	}
	b := bed{box: plane.Rect{Min: points[0], Max: points[0]}}
	for _, p := range points {
		b.box = b.box.Union(plane.Rect{Min: p, Max: p})
	}
	b.width = math.Sqrt(math.Max(1, float64(b.box.Width()*b.box.Height()))) / math.Sqrt(float64(n))
	b.width = max(b.width, b.box.Width()/1000, b.box.Height()/1000, 0.01)
	b.columns, b.rows = 1+int(b.box.Width()/b.width), 1+int(b.box.Height()/b.width)
	b.middles = blocks(points, n, rng)
	b.fillCells()
	for range settlings {
		b.settle(points)
	}
	return b
}

// blocks parts points into n blocks of the same number, up to one: strips across some direction, and
// pieces of strips. It returns their centroids.
func blocks(points []plane.Point, n int, rng *rand.Rand) []plane.Point {
	across := plane.Point{X: float64(rng.IntN(201) - 100), Y: float64(1 + rng.IntN(100))}
	along := plane.Point{X: -across.Y, Y: across.X}
	points = slices.Clone(points)
	wide, long := byDirection(points, along), byDirection(points, across)
	strips := min(max(1, int(math.Round(math.Sqrt(float64(n)*long/math.Max(wide, 1e-9))))), n)
	out := make([]plane.Point, 0, n)
	for s := range strips {
		first, last := n*s/strips, n*(s+1)/strips // blocks of this strip
		strip := points[len(points)*first/n : len(points)*last/n]
		byDirection(strip, along)
		for k := range last - first {
			block := strip[len(strip)*k/(last-first) : len(strip)*(k+1)/(last-first)]
			out = append(out, centroid(block))
		}
	}
	return out
}

// byDirection sorts points by how far they lie in a direction, and returns how far that is from the
// first to the last.
func byDirection(points []plane.Point, d plane.Point) float64 {
	slices.SortFunc(points, func(p, q plane.Point) int {
		return cmp.Or(cmp.Compare(p.Dot(d), q.Dot(d)), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
	})
	return points[len(points)-1].Sub(points[0]).Dot(d)
}

func centroid(points []plane.Point) plane.Point {
	var sum plane.Point
	for _, p := range points {
		sum = sum.Add(p)
	}
	return plane.Point{X: sum.X / float64(len(points)), Y: sum.Y / float64(len(points))}.Snap(100)
}

// settle moves every middle to the centroid of the points that are nearest to it.
func (b *bed) settle(points []plane.Point) {
	members := make([][]plane.Point, len(b.middles))
	for _, p := range points {
		nearest, least := int32(0), math.Inf(1)
		b.near(p, func(m int32, square float64) {
			if square < least {
				nearest, least = m, square
			}
		})
		members[nearest] = append(members[nearest], p)
	}
	for m, of := range members {
		if len(of) > 0 {
			b.middles[m] = centroid(of)
		}
	}
	b.fillCells()
}

func (b *bed) fillCells() {
	b.cells = make([][]int32, b.columns*b.rows)
	for m, p := range b.middles {
		column, row := b.cell(p)
		b.cells[row*b.columns+column] = append(b.cells[row*b.columns+column], int32(m))
	}
}

// cell returns the cell that p is in; the nearest one for a p outside the bed.
func (b *bed) cell(p plane.Point) (column, row int) {
	column = int(math.Max(0, math.Min(float64(b.columns-1), math.Floor((p.X-b.box.Min.X)/b.width))))
	row = int(math.Max(0, math.Min(float64(b.rows-1), math.Floor((p.Y-b.box.Min.Y)/b.width))))
	return column, row
}

// reach is how many cells about its own a place looks for middles, and sight how many widths away
// from a place a middle is, against the nearest, that does not count.
const (
	reach = 2
	sight = 4
)

// near calls visit with every middle in the cells about p, and its squared distance. There is one at
// least: it looks farther where there is none near.
func (b *bed) near(p plane.Point, visit func(m int32, square float64)) {
	column, row := b.cell(p)
	for r, found := reach, false; !found; r *= 2 {
		for y := max(0, row-r); y <= min(b.rows-1, row+r); y++ {
			for x := max(0, column-r); x <= min(b.columns-1, column+r); x++ {
				for _, m := range b.cells[y*b.columns+x] {
					d := b.middles[m].Sub(p)
					visit(m, d.Dot(d))
					found = true
				}
			}
		}
	}
}

// misfits puts into out by how many widths of a plot the nearest of each species is farther from a
// place than the nearest of all. It returns nil where the face has no plots.
func (p *plots) misfits(at neighbour.Place, out []float64) []float64 {
	if at.Face < 0 || at.Face >= len(p.beds) || len(p.beds[at.Face].middles) == 0 {
		return nil
	}
	b := &p.beds[at.Face]
	for s := range out {
		out[s] = math.Inf(1)
	}
	least := math.Inf(1)
	b.near(at.At, func(m int32, square float64) {
		s := b.species[m]
		out[s] = min(out[s], square)
		least = min(least, square)
	})
	for s := range out {
		out[s] = min(sight, (math.Sqrt(out[s])-math.Sqrt(least))/b.width)
	}
	return out
}
