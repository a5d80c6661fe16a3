package yamledit

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// An edit puts text in the place of a span, and says how the tree is to read afterwards.
type edit struct {
	span
	text string
	drop span   // goes as well; empty, or in a later line
	tree func() // makes the same change to the tree of the document that is edited
}

// set returns the edit that gives a path a value, without a tree where it has that value already. Comments
// within the value before are lost where whole says so, and are in the way otherwise.
func (d *document) set(path []Step, v any, whole bool) (edit, error) {
	p, err := d.find(path)
	if err != nil {
		return edit{}, err
	}
	if p.node == nil {
		return d.add(p, v)
	}
	if already(p.node, v) {
		return edit{}, nil
	}
	return d.replace(p, v, whole)
}

// replace returns the edit that puts a value in the place of another; whole is as set has it.
func (d *document) replace(p *place, v any, whole bool) (edit, error) {
	e := edit{span: d.spans[p.node]}
	style := yaml.Style(0)
	block := p.node.Kind != yaml.ScalarNode && !isFlow(p.node)
	switch {
	case p.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return edit{}, p.fault("is a text on lines of its own, after | or >", byHand)
	case isFlow(p.node) && d.byteAt(e.start) != '[' && d.byteAt(e.start) != '{':
		return edit{}, p.fault("is a pair within brackets that has no braces of its own", "put braces round it")
	case empty(p.node) || block:
		after, ok := d.indicator(p)
		if !ok && (block || p.parent().Kind != yaml.MappingNode) {
			return edit{}, p.fault("is written in a way that cannot be followed", byHand)
		}
		if whole && block {
			e.end = d.endOfLine(e.end) // with the comment on its last line
		}
		if stop := d.endOfLine(after); block && d.spans[p.node].start > stop {
			e.drop, e.end = span{stop, e.end}, after // what stands behind the key in its line stays
		}
		if empty(p.node) {
			e.end = after
		}
		e.start = after
		e.text = " "
		if !ok {
			e.text = ": "
		}
	case p.node.Kind == yaml.ScalarNode:
		style = p.node.Style
	}
	if !whole && len(d.commentsIn(e.span))+len(d.commentsIn(e.drop)) > 0 {
		return edit{}, p.fault("has comments within it, which would be lost", "change its parts, or change it by hand")
	}
	e.text += write(v, p.above.inFlow(), style)
	e.tree = func() { p.parent().Content[p.index] = node(v) }
	return e, nil
}

// add returns the edit that gives a map or a list what it lacks.
func (d *document) add(p *place, v any) (edit, error) {
	for _, s := range p.rest {
		if wrong := keyed(s.Key); s.Key != "" && wrong != "" {
			return edit{}, p.fault(wrong, "name a key of the plan")
		}
	}
	for i := len(p.rest) - 1; i > 0; i-- { // what has to be made on the way, from the inside
		if s := p.rest[i]; s.Key != "" {
			v = Map{{s.Key, v}}
		} else if s.Index == 0 {
			v = List{v}
		} else {
			return edit{}, p.fault("is not there, nor is the list that it is to be added to", "add items from [0] on")
		}
	}
	n := p.parent()
	key := p.rest[0].Key
	if n.Kind == yaml.ScalarNode { // nothing is written yet
		var made any = List{v}
		if key != "" {
			made = Map{{key, v}}
		}
		if key != "" && empty(n) && !p.inFlow() && p.above.above.node.Kind == yaml.MappingNode {
			if _, colon := d.indicator(p.above); colon {
				return d.below(p.above, made.(Map))
			}
		}
		return d.replace(p.above, made, false)
	}
	tree := func() {
		if key != "" {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key})
		}
		n.Content = append(n.Content, node(v))
	}
	if isFlow(n) {
		return d.addFlow(p, v, tree)
	}
	indent := d.columnOf(d.spans[n].start)
	lines := []string{spaces(indent) + "- " + write(v, false, 0)}
	if key != "" {
		lines = d.entry(indent, key, v)
	}
	e := d.linesAfter(d.spans[n].end, lines)
	e.tree = tree
	return e, nil
}

// addFlow returns the edit that adds to what is written in brackets.
func (d *document) addFlow(p *place, v any, tree func()) (edit, error) {
	n := p.parent()
	at := d.spans[n].start + 1
	if open := d.byteAt(at - 1); open != '{' && open != '[' {
		return edit{}, p.fault("lies in a pair within brackets that has no braces of its own", "put braces round it")
	}
	text := write(v, true, 0)
	if key := p.rest[0].Key; key != "" {
		text = write(key, true, 0) + ": " + text
	}
	if len(n.Content) > 0 {
		at = d.spans[n.Content[len(n.Content)-1]].end
		text = ", " + text
	}
	return edit{span: span{at, at}, text: text, tree: tree}, nil
}

// below returns the edit that puts the first lines under a key without a value.
func (d *document) below(p *place, m Map) (edit, error) {
	key := p.parent().Content[p.index-1]
	colon, _ := d.indicator(p)
	indent := d.columnOf(d.spans[key].start) + d.indentStep()
	e := d.linesAfter(colon, d.entry(indent, m[0].Key, m[0].Value))
	e.tree = func() { p.parent().Content[p.index] = node(m) }
	return e, nil
}

// entry returns the lines of a key with its value. A map on the way to a single value gets lines of its
// own.
func (d *document) entry(indent int, key string, v any) []string {
	head := spaces(indent) + write(key, false, 0) + ":"
	if m, ok := v.(Map); ok && len(m) == 1 {
		return append([]string{head}, d.entry(indent+d.indentStep(), m[0].Key, m[0].Value)...)
	}
	return []string{head + " " + write(v, false, 0)}
}

// linesAfter returns the edit that puts lines after the one that holds i.
func (d *document) linesAfter(i int, lines []string) edit {
	at := d.endOfLine(i)
	n := d.lineEnd(at)
	if n == 0 { // the text ends without a line end, and goes on to do so
		end := d.usualEnd()
		return edit{span: span{at, at}, text: end + strings.Join(lines, end)}
	}
	end := string(d.text[at : at+n])
	return edit{span: span{at + n, at + n}, text: strings.Join(lines, end) + end}
}

// usualEnd returns how the first line of the text ends.
func (d *document) usualEnd() string {
	at := d.endOfLine(0)
	if n := d.lineEnd(at); n > 0 {
		return string(d.text[at : at+n])
	}
	return "\n"
}
