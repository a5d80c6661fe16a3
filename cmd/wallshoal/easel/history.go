package easel

import (
	"encoding/binary"
	"math"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// A history holds the steps of an easel, of which there is no end, in little room: each as what is otherwise in it
// than in the step before, and every so often one as a whole.
type history struct {
	kept []kept
}

// A kept step differs from the one before from byte same on, up to tail bytes before the end. Of one that is kept as a
// whole both are 0.
type kept struct {
	same, tail int
	middle     []byte
	gesture    string
	byHand     bool
	laid       bool
	of         origins
}

// often is after how many steps one is kept as a whole: so many are put together at most to go back by one.
const often = 32

func (h *history) len() int { return len(h.kept) }

// put makes s the step with index i, in the place of all from there on. There are i steps at least.
func (h *history) put(i int, s step) {
	k := kept{middle: packed(s), gesture: s.gesture, byHand: s.byHand, laid: s.laid, of: s.of}
	if i%often > 0 {
		whole := k.middle
		before := h.bytes(i - 1)
		n := min(len(before), len(whole))
		for k.same < n && before[k.same] == whole[k.same] {
			k.same++
		}
		for k.tail < n-k.same && before[len(before)-1-k.tail] == whole[len(whole)-1-k.tail] {
			k.tail++
		}
		k.middle = append([]byte(nil), whole[k.same:len(whole)-k.tail]...)
	}
	h.cut(i)
	h.kept = append(h.kept, k)
}

// cut takes away all steps from index i on.
func (h *history) cut(i int) {
	clear(h.kept[i:]) // for their bytes to be let go
	h.kept = h.kept[:i]
}

// gesture returns what made the step with index i.
func (h *history) gesture(i int) string { return h.kept[i].gesture }

// byHand reports whether the layout of the step with index i is not simply what its plan comes to.
func (h *history) byHand(i int) bool { return h.kept[i].byHand }

// of returns what the step with index i goes back to.
func (h *history) of(i int) origins { return h.kept[i].of }

// goesBackTo sets what the step with index i goes back to.
func (h *history) goesBackTo(i int, of origins) { h.kept[i].of = of }

// step returns the step with index i.
func (h *history) step(i int) step {
	k := h.kept[i]
	s := unpacked(h.bytes(i))
	s.gesture, s.byHand, s.laid, s.of = k.gesture, k.byHand, k.laid, k.of
	return s
}

// bytes returns the step with index i as it was packed.
func (h *history) bytes(i int) []byte {
	at := i - i%often
	whole := h.kept[at].middle
	for at++; at <= i; at++ {
		k := h.kept[at]
		next := make([]byte, 0, k.same+len(k.middle)+k.tail)
		next = append(next, whole[:k.same]...)
		next = append(next, k.middle...)
		whole = append(next, whole[len(whole)-k.tail:]...)
	}
	return whole
}

// packed returns the text and the layout of a step as bytes, from which unpacked makes the same again to the last bit.
func packed(s step) []byte {
	out := make([]byte, 0, len(s.text)+16*len(s.layout.Pieces)+64)
	out = binary.AppendUvarint(out, uint64(len(s.text)))
	out = append(out, s.text...)
	out = binary.AppendUvarint(out, s.layout.Seed)
	out = binary.AppendUvarint(out, uint64(len(s.layout.Pieces)))
	for _, p := range s.layout.Pieces {
		out = appendPiece(out, p)
	}
	out = binary.AppendUvarint(out, uint64(len(s.layout.Seated)))
	for _, seat := range s.layout.Seated {
		out = appendPiece(binary.AppendVarint(out, int64(seat.ID)), seat.Thrown)
	}
	return out
}

// appendPiece appends a piece. Its places and its heading are whole hundredths as a rule; what is none is written
// out.
func appendPiece(out []byte, p scatter.Piece) []byte {
	const exact, locked = 2, 1
	flags := byte(0)
	if p.Locked {
		flags |= locked
	}
	figures := [...]float64{p.At.X, p.At.Y, float64(p.Heading)}
	var hundredths [len(figures)]int64
	for i, v := range figures {
		n := math.Round(v * 100)
		if !(math.Abs(n) < 1<<53) || math.Float64bits(float64(int64(n))/100) != math.Float64bits(v) {
			flags |= exact
		} else {
			hundredths[i] = int64(n)
		}
	}
	out = append(out, flags)
	for _, n := range []int{p.ID, p.Kind, p.Face} {
		out = binary.AppendVarint(out, int64(n))
	}
	for i, v := range figures {
		if flags&exact != 0 {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
		} else {
			out = binary.AppendVarint(out, hundredths[i])
		}
	}
	return out
}

// unpacked is the other way of packed.
func unpacked(from []byte) step {
	r := unpacker(from)
	s := step{text: append([]byte(nil), r.take(int(r.natural()))...)}
	s.layout.Seed = r.natural()
	s.layout.Pieces = make([]scatter.Piece, r.natural())
	for i := range s.layout.Pieces {
		s.layout.Pieces[i] = r.piece()
	}
	if n := r.natural(); n > 0 {
		s.layout.Seated = make([]scatter.Seat, n)
		for i := range s.layout.Seated {
			s.layout.Seated[i].ID = int(r.whole())
			s.layout.Seated[i].Thrown = r.piece()
		}
	}
	return s
}

// An unpacker reads what packed wrote.
type unpacker []byte

func (r *unpacker) take(n int) []byte {
	out := (*r)[:n]
	*r = (*r)[n:]
	return out
}

func (r *unpacker) natural() uint64 {
	v, n := binary.Uvarint(*r)
	r.take(n)
	return v
}

func (r *unpacker) whole() int64 {
	v, n := binary.Varint(*r)
	r.take(n)
	return v
}

func (r *unpacker) piece() scatter.Piece {
	flags := r.take(1)[0]
	p := scatter.Piece{ID: int(r.whole()), Kind: int(r.whole()), Face: int(r.whole()), Locked: flags&1 != 0}
	figure := func() float64 {
		if flags&2 != 0 {
			return math.Float64frombits(binary.LittleEndian.Uint64(r.take(8)))
		}
		return float64(r.whole()) / 100
	}
	p.At = plane.Point{X: figure(), Y: figure()}
	p.Heading = heading.Bearing(figure())
	return p
}
