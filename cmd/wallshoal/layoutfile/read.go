package layoutfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// MaxBytes is how long a layout file may be; the largest work needs somewhat more than half.
const MaxBytes = 40 << 20

// offWall is how far off its face the centre of a piece may lie, in mm.
const offWall = 0.01

// Lines says, by the ID of a piece, in which line of its file the piece begins.
type Lines map[int]int

// Read returns the layout in data, which is the contents of the file called name and was made for
// the site and the kinds, and where its pieces stand there. The pieces are ordered by ID. The error
// is nil or yamlfile.Faults: everything that is wrong with the file, in file order.
//
// Whether pieces overlap or hang where they should not is not asked here: see scatter.Inspect.
func Read(name string, data []byte, site wall.Site, kinds []scatter.Kind) (scatter.Layout, Lines, error) {
	layout, lines, _, err := read(name, data, newNames(site, kinds))
	return layout, lines, err
}

// ReadOlder is Read of a layout that may have been made for the plan as it was before. Pieces may lie off their face, or on one that
// takes none. Those of which the plan has the wall, the face or the kind no longer are left out, and gone says which they are.
func ReadOlder(name string, data []byte, site wall.Site, kinds []scatter.Kind) (layout scatter.Layout, gone []int, err error) {
	n := newNames(site, kinds)
	n.older = true
	layout, _, gone, err = read(name, data, n)
	return layout, gone, err
}

func read(name string, data []byte, n names) (scatter.Layout, Lines, []int, error) {
	layout, lines, ok := quick(data, n)
	var gone []int
	if !ok {
		lines = Lines{}
		err := yamlfile.Read(name, data, MaxBytes, func(_ *yamlfile.File, top yamlfile.Map) {
			r := &reader{names: n, ids: map[int]int{}, lines: lines}
			layout = r.layout(top)
			gone = r.gone
		})
		if err != nil {
			return scatter.Layout{}, nil, nil, err
		}
	}
	slices.SortStableFunc(layout.Pieces, func(a, b scatter.Piece) int { return a.ID - b.ID })
	return layout, lines, gone, nil
}

// names finds kinds and faces by what the file calls them.
type names struct {
	site  wall.Site
	kinds []scatter.Kind
	kind  map[string]int
	face  map[[2]string]int
	older bool // the layout may be of the plan as it was before
}

// takes reports whether a piece may be read that hangs on the face.
func (n names) takes(face int) bool { return n.older || n.site.Faces[face].Used }

func newNames(site wall.Site, kinds []scatter.Kind) names {
	n := names{site: site, kinds: kinds, kind: map[string]int{}, face: map[[2]string]int{}}
	for i, k := range kinds {
		n.kind[k.Code] = i
	}
	for i, f := range site.Faces {
		n.face[[2]string{site.Room.Walls[f.Wall].Name, f.Name}] = i
	}
	return n
}

// holds reports whether at lies on the face or before what is covered of it, and how far off it is
// where it does not, in mm.
func (n names) holds(face int, at plane.Point) (off float64, ok bool) {
	outline := n.site.Faces[face].Whole
	if n.older || outline.Contains(at) {
		return 0, true
	}
	off = -outline.Distance(at)
	return off, off <= offWall
}

// A reader reads a layout and complains of what is wrong with it.
type reader struct {
	names
	ids   map[int]int // by ID, the index of the piece that has it
	lines Lines
	gone  []int // IDs of pieces of which the plan has no wall, face or kind any more
}

func (r *reader) layout(top yamlfile.Map) scatter.Layout {
	top.Known("seed", "pieces")
	var l scatter.Layout
	l.Seed, _ = top.Get("seed").Need("give the seed that the layout was made with").Seed()
	items, _ := top.Get("pieces").Need("list the pieces").List(scatter.MaxPieces, "a list of pieces, each starting with a dash")
	for i, item := range items {
		if r.older && r.isGone(item) {
			m, _ := item.Map("id", "kind", "wall", "face", "at", "heading", "locked")
			r.gone = append(r.gone, r.id(m.Get("id"), i))
			continue
		}
		l.Pieces = append(l.Pieces, r.piece(item, i))
	}
	return l
}

// isGone reports whether the plan has the kind of a piece no longer, or its wall or face.
func (r *reader) isGone(v yamlfile.Value) bool {
	if !v.IsMap() {
		return false
	}
	m, _ := v.Map("id", "kind", "wall", "face", "at", "heading", "locked")
	var words [3]string
	for i, key := range []string{"kind", "wall", "face"} {
		text, ok := m.Get(key).Data(wall.MaxName * 4)
		if !ok {
			return false // which is a fault
		}
		words[i] = text
	}
	same := func(name, text string) bool { return strings.EqualFold(name, norm.NFC.String(strings.TrimSpace(text))) } // as Choice has it
	kind := slices.ContainsFunc(r.kinds, func(k scatter.Kind) bool { return same(k.Code, words[0]) })
	face := slices.ContainsFunc(r.site.Faces, func(f wall.Face) bool {
		return same(r.site.Room.Walls[f.Wall].Name, words[1]) && same(f.Name, words[2])
	})
	return !kind || !face
}

func (r *reader) piece(v yamlfile.Value, i int) scatter.Piece {
	m, ok := v.Map("id", "kind", "wall", "face", "at", "heading", "locked")
	if !ok {
		return scatter.Piece{}
	}
	p := scatter.Piece{ID: r.id(m.Get("id").Need("give the piece a number of its own"), i)}
	codes := make([]string, len(r.kinds))
	for i, k := range r.kinds {
		codes[i] = k.Code
	}
	code, _ := m.Get("kind").Need("give the code of its kind").Choice("the code of a kind", codes...)
	p.Kind = r.kind[code]
	face, known := r.faceOf(m)
	at, placed := readPoint(m.Get("at").Need("give its centre, like [1200, 1450.5]"))
	p.Face, p.At = face, at
	if known && placed {
		if off, on := r.holds(face, at); !on {
			m.Get("at").Fault(fmt.Sprintf("its centre lies %.2f mm off the face", off), "move it onto the face")
		}
	}
	degrees, _ := m.Get("heading").Need("give degrees clockwise from straight up").Number("a heading", 0, 360)
	p.Heading = heading.Bearing(math.Mod(degrees, 360))
	p.Locked, _ = m.Get("locked").Bool()
	return p
}

func (r *reader) id(v yamlfile.Value, i int) int {
	id, ok := v.Whole("a piece's number", 1, maxID)
	if !ok {
		return 0
	}
	if first, taken := r.ids[id]; taken {
		v.Fault(fmt.Sprintf("%d is also the number of pieces[%d]", id, first), "give each piece a number of its own")
		return 0
	}
	r.ids[id] = i
	r.lines[id] = v.Line()
	return id
}

// maxID is the greatest number of a piece; there may be gaps.
const maxID = 10 * scatter.MaxPieces

// faceOf returns the face that a piece hangs on.
func (r *reader) faceOf(m yamlfile.Map) (int, bool) {
	var walls, faces []string
	for _, w := range r.site.Room.Walls {
		walls = append(walls, w.Name)
	}
	name, ok := m.Get("wall").Need("name its wall").Choice("the name of a wall", walls...)
	for _, f := range r.site.Faces {
		if r.site.Room.Walls[f.Wall].Name == name {
			faces = append(faces, f.Name)
		}
	}
	if !ok {
		faces = nil
	}
	v := m.Get("face").Need("name the face of its wall, or write wall for the wall itself")
	if !ok {
		return 0, false
	}
	face, ok := v.Choice("a face of that wall", faces...)
	if !ok {
		return 0, false
	}
	i := r.face[[2]string{name, face}]
	if !r.takes(i) {
		v.Fault(yamlfile.Quote(strings.Join([]string{name, face}, ", "))+" takes no pieces", "hang the piece elsewhere, or let the plan use that wall")
		return 0, false
	}
	return i, true
}

func readPoint(v yamlfile.Value) (plane.Point, bool) {
	items, ok := v.List(wall.MaxCorners, "two numbers, like [1200, 1450.5]")
	if !ok {
		return plane.Point{}, false
	}
	if len(items) != 2 {
		v.Fault(fmt.Sprintf("has %d numbers", len(items)), "give two, like [1200, 1450.5]")
		return plane.Point{}, false
	}
	x, ok := items[0].Number("a place in mm", -wall.MaxLength, wall.MaxLength)
	y, ok2 := items[1].Number("a place in mm", -wall.MaxLength, wall.MaxLength)
	return plane.Point{X: x, Y: y}, ok && ok2
}
