package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/apportion"
	"wallshoal/scatter/outline"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// FormSection is one form of a piece: the same piece folded, bent or opened in one of several ways.
//
//	name:       as in "half fold"; needed
//	share:      its part of the pieces, against the other forms; 1 if left out
//	stand-off:  how far it stands out from the wall; as the piece if left out
//	width:      how wide it is across the way it heads, against the piece as drawn, like 60 % or 0.6;
//	            the holes go with it; or
//	outline:    an outline of its own, as a piece has it, with the holes where they are in the piece's
//	            drawing
//	length:     with an outline: how long it is the way it heads; the piece's length if left out
type FormSection = form

// SizeSection is one size of a piece: just its scale, or
//
//	scale:   against the piece as drawn, like 80 % or 0.8; or
//	length:  how long it is the way it heads
//	share:   its part of the pieces, against the other sizes; 1 if left out
//
// The outline and the places of the holes are scaled, and the weight goes with the area. Bit, depth
// and stand-off stay.
type SizeSection = size

const (
	maxMade   = 9 // forms by sizes: there is a digit for each
	minWidth  = 0.05
	maxWidth  = 2
	minScale  = 0.05
	maxScale  = 20
	leastPart = 1e-9 // share against other shares
)

type form struct {
	name     string
	field    string
	share    float64
	standOff float64
	width    float64
	own      *scatter.Kind // the outline and holes of a form that is drawn by itself
}

type size struct {
	name  string
	field string
	share float64
	scale float64
}

func (r *reader) forms(v yamlfile.Value, p *piece) []form {
	if !v.Given() {
		return nil
	}
	items, ok := v.List(maxMade, "a list of forms, each starting with a dash")
	if ok && len(items) == 0 {
		v.Fault("has no form", "list one, or remove the line")
	}
	forms := make([]form, len(items))
	for i, item := range items {
		forms[i] = r.form(item, p)
		first := slices.IndexFunc(forms[:i], func(f form) bool { return wall.FoldName(f.name) == wall.FoldName(forms[i].name) })
		if first >= 0 && forms[i].name != "" {
			item.Fault(fmt.Sprintf("%s is also the name of form %d", yamlfile.Quote(forms[i].name), first+1), "give each form a name of its own")
		}
	}
	return forms
}

func (r *reader) form(v yamlfile.Value, p *piece) form {
	f := form{field: v.Field(), share: 1, standOff: p.StandOff, width: 1}
	m, ok := v.Map("name", "share", "stand-off", "width", "outline", "length")
	if !ok {
		return f
	}
	name := m.Get("name").Need("give each form a name")
	f.name, _ = name.Text(maxTitle)
	if f.name != "" && p.Name != "" {
		if wrong, fix := wall.CheckName(p.Name + ", " + f.name); wrong != "" && !r.file.Faulty(p.field+".name") {
			if alone, _ := wall.CheckName(p.Name); alone == "" {
				name.Fault("with the name of the piece, "+wrong, fix)
			}
		}
	}
	f.share = r.part(m.Get("share"))
	f.standOff = r.length(m.Get("stand-off"), "a stand-off", 0, MaxStandOff, p.StandOff)
	if width, ok := m.Get("width").Share("a width against the piece as drawn", minWidth, maxWidth); ok {
		f.width = width
	}
	r.ownOutline(m, p, &f)
	return f
}

// ownOutline reads the outline of a form that is drawn by itself.
func (r *reader) ownOutline(m yamlfile.Map, p *piece, f *form) {
	drawing, scaled := m.Get("outline"), m.Get("length")
	if !drawing.Given() {
		if scaled.Given() {
			scaled.Fault("is only used with an outline", "remove it, or list sizes beside the forms")
		}
		return
	}
	if width := m.Get("width"); width.Given() {
		width.Fault("stands beside an outline", "keep one of them")
	}
	d, _, drawn := r.outline(drawing, p.heads)
	length := r.size(scaled, "a length")
	if !drawn || r.file.Faulty(p.field+".outline") || r.file.Faulty(p.field+".holes") || r.file.Faulty(scaled.Field()) {
		return
	}
	if !scaled.Given() {
		length = p.length()
	}
	f.own = &scatter.Kind{Holes: slices.Clone(p.Holes)}
	r.lay(drawing, d, f.own, p.holes, p.heads, length)
}

// length returns how long the piece is the way it heads, in mm.
func (p *piece) length() float64 { return p.Outline.Bounds().Width() }

func (r *reader) sizes(v yamlfile.Value, p *piece) []size {
	if !v.Given() {
		return nil
	}
	items, ok := v.List(maxMade, "a list of sizes, like [100 %, 80 %]")
	if ok && len(items) == 0 {
		v.Fault("has no size", "list one, or remove the line")
	}
	sizes := make([]size, len(items))
	for i, item := range items {
		sizes[i] = r.oneSize(item, p)
		first := slices.IndexFunc(sizes[:i], func(s size) bool { return s.name == sizes[i].name })
		if first >= 0 && sizes[i].name != "" {
			item.Fault(fmt.Sprintf("%s is also size %d", sizes[i].name, first+1), "give each size once")
		}
	}
	return sizes
}

func (r *reader) oneSize(v yamlfile.Value, p *piece) size {
	s := size{field: v.Field(), share: 1, scale: 1}
	scale, length := v, yamlfile.Value{}
	if v.IsMap() {
		m, _ := v.Map("scale", "length", "share")
		scale, length = m.Get("scale"), m.Get("length")
		s.share = r.part(m.Get("share"))
		switch {
		case scale.Given() && length.Given():
			length.Fault("stands beside a scale", "keep one of them")
			return s
		case !scale.Given() && !length.Given() && !r.file.Faulty(v.Field()):
			v.Fault("is no size", "give scale or length, like {scale: 80 %, share: 1}")
			return s
		}
	}
	if length.Given() {
		mm := r.size(length, "a length")
		if mm > 0 && p.length() > 0 {
			s.scale, s.name = mm/p.length(), measure.Precise(mm, r.units)
		}
		if mm > 0 && (s.scale < minScale || s.scale > maxScale) {
			length.Fault(r.show(mm)+" is far off the piece as drawn, which is "+r.show(p.length())+" long", "give it as a piece of its own")
		}
		return s
	}
	if factor, ok := scale.Share("a scale against the piece as drawn", minScale, maxScale); ok {
		s.scale, s.name = factor, strconv.FormatFloat(math.Round(factor*1e4)/100, 'f', -1, 64)+" %"
	}
	return s
}

// part reads a share against other shares.
func (r *reader) part(v yamlfile.Value) float64 {
	if share, ok := v.Number("a share", 0, scatter.MaxShare); ok && share < leastPart {
		v.Fault("is not a share that gets any piece", "give a number above 0, or remove what it is a share of")
	} else if ok {
		return share
	}
	return 1
}

// made returns the kinds that the piece is made in: each form in each size.
func (r *reader) made(p piece) []scatter.Kind {
	if len(p.forms) == 0 && len(p.sizes) == 0 || r.file.Faulty(p.field) {
		return []scatter.Kind{p.Kind}
	}
	forms, sizes := p.forms, p.sizes
	if len(forms) == 0 {
		forms = []form{{field: p.field + ".sizes", share: 1, standOff: p.StandOff, width: 1}}
	}
	if len(sizes) == 0 {
		sizes = []size{{share: 1, scale: 1}}
	}
	n := len(forms) * len(sizes)
	code := p.field + ".code"
	switch {
	case n > maxMade:
		r.file.Fault(p.field, fmt.Sprintf("%d forms in %d sizes are %d kinds, and a code has one digit for them", len(forms), len(sizes), n),
			fmt.Sprintf("list at most %d, and the others as pieces of their own", maxMade))
		return nil
	case n > 1 && utf8.RuneCountInString(p.Code) > 1:
		r.file.Fault(code, fmt.Sprintf("%s leaves no room for the digit that tells forms and sizes apart", yamlfile.Quote(p.Code)),
			"give one letter, or list the forms and sizes as pieces of their own")
		return nil
	}
	shares := products(forms, sizes)
	counts := apportion.LargestRemainders(p.Count, shares)
	if p.Count > 0 && slices.Contains(counts, 0) {
		r.file.Fault(p.field+".count", fmt.Sprintf("%d pieces by the shares of %d forms and sizes leave one with none", p.Count, n),
			"raise it, list fewer, or give a share in place of the count")
		return nil
	}
	var kinds []scatter.Kind
	for i, f := range forms {
		for j, s := range sizes {
			k := r.oneMade(p, f, s)
			switch at := len(kinds); {
			case p.Count > 0:
				k.Count = counts[at]
			case p.Share > 0:
				k.Share = math.Max(p.Share*shares[at], math.SmallestNonzeroFloat64)
			}
			if n > 1 {
				k.Code += strconv.Itoa(i*len(sizes) + j + 1)
			}
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// products returns the share of each form in each size; together they are 1.
func products(forms []form, sizes []size) []float64 {
	var inForms, inSizes float64
	for _, f := range forms {
		inForms += f.share
	}
	for _, s := range sizes {
		inSizes += s.share
	}
	var shares []float64
	for _, f := range forms {
		for _, s := range sizes {
			shares = append(shares, f.share/inForms*(s.share/inSizes))
		}
	}
	return shares
}

// oneMade returns the piece in one form and size, and complains of what is wrong with it.
func (r *reader) oneMade(p piece, f form, s size) scatter.Kind {
	k := p.Kind
	k.Form, k.Size, k.StandOff = f.name, s.name, f.standOff
	for _, part := range []string{f.name, s.name} {
		if part != "" {
			k.Name += ", " + part
		}
	}
	k.Weight = float64(p.Weight * s.scale * s.scale)
	if f.own != nil {
		k.Outline, k.Holes = f.own.Outline, f.own.Holes
	}
	if s.scale != 1 || f.width != 1 {
		scale := func(at plane.Point) plane.Point {
			return plane.Point{X: at.X * s.scale, Y: at.Y * s.scale * f.width}
		}
		at := make([]plane.Point, len(k.Holes))
		for i, h := range k.Holes {
			at[i] = scale(h.At)
		}
		ring, at, err := outline.Lay(outline.Points(k.Outline.Map(scale)), at, outline.Right, 0)
		if err != nil {
			r.file.Fault(f.field, yamlfile.Quote(k.Name)+": "+err.Error(), "make it larger")
			return k
		}
		k.Outline, k.Holes = ring, slices.Clone(k.Holes)
		for i := range k.Holes {
			k.Holes[i].At = at[i]
		}
	}
	for _, problem := range scatter.CheckKinds([]scatter.Kind{unnumbered(k)}, r.units) {
		where := strings.TrimPrefix(problem.Field, "pieces[0].")
		r.file.Fault(f.field, yamlfile.Quote(k.Name)+", "+where+": "+problem.Wrong, problem.Fix)
	}
	return k
}

// unnumbered returns k with a share, so that nothing is said of how many there are.
func unnumbered(k scatter.Kind) scatter.Kind {
	k.Count, k.Share = 0, 1
	return k
}

// apart complains of more kinds than there can be, and of kinds of different pieces that have the
// name or the code of one another once forms and sizes are told apart.
func (r *reader) apart(v yamlfile.Value, pieces []piece, kinds []scatter.Kind) {
	if r.file.Faulty(v.Field()) {
		return
	}
	if len(kinds) > MaxKinds {
		v.Fault(fmt.Sprintf("there are %d kinds of pieces, with each form in each size", len(kinds)), fmt.Sprintf("give at most %d", MaxKinds))
		return
	}
	names, codes := map[string]string{}, map[string]string{}
	for _, k := range kinds {
		piece := slices.IndexFunc(pieces, func(p piece) bool { return p.Name == k.Of })
		field := pieces[piece].field
		code, name := strings.ToUpper(k.Code), wall.FoldName(k.Name)
		if of, taken := codes[code]; taken {
			r.file.Fault(field+".code", fmt.Sprintf("%q is then the code of %q and of %q", k.Code, of, k.Name), "give one of the pieces another letter")
		}
		if of, taken := names[name]; taken {
			r.file.Fault(field+".name", fmt.Sprintf("%q is then hard to tell from %q", k.Name, of), "give one of the pieces another name")
		}
		codes[code], names[name] = k.Name, k.Name
	}
}
