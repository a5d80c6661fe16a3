package yamledit

import (
	"bytes"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/wall"
)

// after returns the document with an edit made, once it is sure that it says what d does with the change
// made, and no comment is lost or new.
func (d *document) after(e edit, field string) (*document, error) {
	edits := []edit{e}
	if shift, ok := d.realign(e); ok {
		edits = append(edits, shift)
	}
	if e.drop.end > e.drop.start {
		edits = append(edits, edit{span: e.drop})
	}
	var b bytes.Buffer
	at := 0
	for _, one := range edits {
		b.Write(d.text[at:one.start])
		b.WriteString(one.text)
		at = one.end
	}
	b.Write(d.text[at:])
	spoilt := func(why string) error {
		return wall.Problem{Field: field, Wrong: "cannot be changed without harm to the rest: " + why, Fix: byHand}
	}
	now, err := open(b.Bytes())
	if err != nil {
		return nil, spoilt("what comes of it " + strings.TrimPrefix(err.Error(), "the file: "))
	}
	var kept []string
	for _, c := range d.comments {
		if !e.holds(c.start) && !e.drop.holds(c.start) {
			kept = append(kept, string(d.text[c.start:c.end]))
		}
	}
	e.tree()
	if !same(d.root, now.root) {
		return nil, spoilt("other values would read differently")
	}
	if !slices.Equal(kept, now.remarks()) {
		return nil, spoilt("comments would read differently")
	}
	return now, nil
}

// remarks returns the comments as they are written.
func (d *document) remarks() []string {
	var all []string
	for _, c := range d.comments {
		all = append(all, string(d.text[c.start:c.end]))
	}
	return all
}

// same reports whether two trees say the same: values, keys and their order. A tag that want leaves out
// may be any but that of nothing.
func same(want, got *yaml.Node) bool {
	if want.Kind != got.Kind || want.Value != got.Value || want.Anchor != got.Anchor || len(want.Content) != len(got.Content) {
		return false
	}
	if want.Tag != got.Tag && (want.Tag != "" || got.Tag == "!!null" || got.Tag == "!!merge") {
		return false
	}
	for i := range want.Content {
		if !same(want.Content[i], got.Content[i]) {
			return false
		}
	}
	return true
}

// realign returns the edit of the blanks before the comment that ends the line of an edit, so that the
// comment stays in its column. Where there is no room for that, one space is left. A comment one space
// behind its value stays so, unless one in the next line or the one before shows that it is lined up.
func (d *document) realign(e edit) (edit, bool) {
	old := string(d.text[e.start:e.end])
	grown := width(e.text) - width(old)
	if grown == 0 || strings.ContainsAny(old+e.text, "\r\n") {
		return edit{}, false
	}
	line := d.lineOf(e.end)
	i, _ := slices.BinarySearchFunc(d.comments, e.end, func(c span, at int) int { return c.start - at })
	if i >= len(d.comments) || d.lineOf(d.comments[i].start) != line {
		return edit{}, false
	}
	gap := span{d.comments[i].start, d.comments[i].start}
	for gap.start > e.end && d.text[gap.start-1] == ' ' {
		gap.start--
	}
	has := gap.end - gap.start
	if has == 0 || d.byteAt(gap.start-1) == '\t' || has == 1 && !d.linedUp(i) {
		return edit{}, false
	}
	want := max(1, has-grown)
	return edit{span: gap, text: spaces(want)}, want != has
}

// linedUp reports whether a comment begins in the same column as one of the next line or the one before.
func (d *document) linedUp(i int) bool {
	c := d.comments[i].start
	for _, j := range []int{i - 1, i + 1} {
		if j < 0 || j >= len(d.comments) {
			continue
		}
		other := d.comments[j].start
		if by := d.lineOf(other) - d.lineOf(c); (by == 1 || by == -1) && d.columnOf(other) == d.columnOf(c) {
			return true
		}
	}
	return false
}
