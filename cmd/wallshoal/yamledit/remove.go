package yamledit

import (
	"slices"

	"gopkg.in/yaml.v3"
)

// remove returns the edit that takes a value out.
func (d *document) remove(path []Step) (edit, error) {
	p, err := d.find(path)
	if err != nil {
		return edit{}, err
	}
	if p.node == nil {
		return edit{}, p.fault("is not there", "remove what the file has")
	}
	n := p.parent()
	first, each := p.index, 1
	if n.Kind == yaml.MappingNode {
		first, each = p.index-1, 2
	}
	var e edit
	switch {
	case len(n.Content) == each && p.above.above == nil:
		return edit{}, p.fault("is all that the file holds", "keep it, or remove the file")
	case len(n.Content) == each && !isFlow(n):
		e, err = d.emptied(p.above)
	case isFlow(n):
		e, err = d.removeFlow(p, first, each)
	default:
		e, err = d.removeLines(p, first, each)
	}
	if err != nil {
		return edit{}, err
	}
	e.tree = func() {
		n.Content = slices.Delete(n.Content, first, first+each)
		n.Style |= yaml.FlowStyle // the only one that can be empty
	}
	return e, nil
}

// emptied returns the edit that leaves {} or [] of a map or a list on lines of its own.
func (d *document) emptied(p *place) (edit, error) {
	var nothing any = Map{}
	if p.node.Kind == yaml.SequenceNode {
		nothing = List{}
	}
	return d.replace(p, nothing, false)
}

// removeFlow returns the edit that takes an entry out of brackets, with the comma that parts it from the
// next one, or from the one before.
func (d *document) removeFlow(p *place, first, each int) (edit, error) {
	n := p.parent()
	if open := d.byteAt(d.spans[n].start); open != '{' && open != '[' {
		return edit{}, p.fault("lies in a pair within brackets that has no braces of its own", "put braces round it")
	}
	e := edit{span: span{d.spans[n.Content[first]].start, d.spans[p.node].end}}
	switch next := first + each; {
	case next < len(n.Content):
		e.end = d.spans[n.Content[next]].start
	case first > 0:
		e.start = d.spans[n.Content[first-1]].end
	}
	if len(d.commentsIn(e.span)) > 0 {
		return edit{}, p.fault("has comments beside it, which would be lost", byHand)
	}
	return e, nil
}

// removeLines returns the edit that takes the lines of an entry out.
func (d *document) removeLines(p *place, first, each int) (edit, error) {
	n := p.parent()
	start := d.spans[n.Content[first]].start
	if n.Kind == yaml.SequenceNode {
		dash, ok := d.dash(n, first)
		if !ok {
			return edit{}, p.fault("is written in a way that cannot be followed", byHand)
		}
		start = dash
	}
	stop := d.endOfLine(d.spans[p.node].end)
	e := edit{span: span{d.startOfLine(start), stop}}
	if d.skipBlanks(e.start) != start { // it begins behind the dash of a list
		if first+each >= len(n.Content) {
			return edit{}, p.fault("is written in a way that cannot be followed", byHand)
		}
		e = edit{span: span{start, d.spans[n.Content[first+each]].start}}
		if n.Kind == yaml.SequenceNode {
			e.end, _ = d.dash(n, first+each)
		}
		if len(d.commentsIn(span{stop, e.end})) > 0 {
			return edit{}, p.fault("has comments below it, which would be lost", byHand)
		}
		return e, nil
	}
	switch ends := d.lineEnd(stop); {
	case ends > 0:
		e.end += ends
	case e.start > d.lines[0]: // the last line of a text that ends without a line end, and goes on to do so
		e.start = d.endOfLine(d.lines[d.lineOf(e.start)-1])
	}
	return e, nil
}

// skipBlanks returns the first place from i on that is no space.
func (d *document) skipBlanks(i int) int {
	for blank(d.byteAt(i)) {
		i++
	}
	return i
}
