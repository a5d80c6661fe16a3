package yamledit

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// The reader tells where a value begins and what it is; where it ends follows from both. A plain value is
// read off the text character by character, so that the text is known to say just this.

// locate finds the spans of all nodes.
func (d *document) locate() error {
	_, err := d.walk(d.root, -1)
	return err
}

// walk finds the span of n and of all within it and returns its end. Block scalars in it are indented by
// more than indent.
func (d *document) walk(n *yaml.Node, indent int) (int, error) {
	lost := func() error {
		return whole(fmt.Sprintf("is written in line %d in a way that cannot be followed", n.Line), "change the value by hand")
	}
	start, ok := d.offset(n.Line, n.Column)
	if !ok {
		return 0, lost()
	}
	at := d.properties(n, start)
	end := at
	switch {
	case n.Kind == yaml.AliasNode:
		end, ok = d.literally(at, "*"+n.Value)
		d.leaves = append(d.leaves, span{at, end})
	case n.Kind == yaml.ScalarNode:
		end, ok = d.scalar(n, at, indent)
	case n.Style&yaml.FlowStyle != 0:
		end, ok = d.flow(n, at, indent)
	default:
		end, ok = d.block(n, start, indent)
	}
	if !ok || end > len(d.text) {
		return 0, lost()
	}
	d.spans[n] = span{at, end}
	return end, nil
}

// properties returns what follows the anchor and the tag of n, which begin at i.
func (d *document) properties(n *yaml.Node, i int) int {
	for d.byteAt(i) == '&' || d.byteAt(i) == '!' {
		d.own[n] = true
		start := i
		for i < len(d.text) && !blank(d.text[i]) && d.lineEnd(i) == 0 && !strings.ContainsRune(",[]{}", rune(d.text[i])) {
			i++
		}
		d.leaves = append(d.leaves, span{start, i})
		if n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&^yaml.TaggedStyle == 0 {
			continue
		}
		i = d.skip(i, "")
	}
	return i
}

// within finds the spans of what n holds and returns where the last of it ends, from at on.
func (d *document) within(n *yaml.Node, at, indent int) (int, bool) {
	for i, child := range n.Content {
		value := n.Kind == yaml.MappingNode && i%2 == 1
		if value && empty(child) && !d.hasProperties(child) {
			if colon := d.skip(at, ""); d.byteAt(colon) == ':' {
				at = colon + 1
			}
			d.spans[child] = span{at, at}
			continue
		}
		end, err := d.walk(child, indent)
		if err != nil {
			return 0, false
		}
		at = end
	}
	return at, true
}

// empty reports whether nothing is written for n.
func empty(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&^yaml.TaggedStyle == 0
}

// hasProperties reports whether an anchor or a tag is written for n, which is empty.
func (d *document) hasProperties(n *yaml.Node) bool {
	i, ok := d.offset(n.Line, n.Column)
	return n.Anchor != "" || n.Style&yaml.TaggedStyle != 0 || ok && d.byteAt(i) == '!'
}

// block finds the end of a map or list on lines of its own.
func (d *document) block(n *yaml.Node, start, indent int) (int, bool) {
	if len(n.Content) == 0 {
		return 0, false
	}
	column := n.Content[0].Column
	if n.Kind == yaml.SequenceNode {
		column = n.Column
		if d.own[n] {
			return d.within(n, start, indent) // its dash stands further on, and nothing is changed there
		}
	}
	return d.within(n, start, column-1)
}

// flow finds the end of a map or list in brackets, or of a pair within brackets that has none.
func (d *document) flow(n *yaml.Node, at, indent int) (int, bool) {
	closing := byte(0)
	switch d.byteAt(at) {
	case '{':
		closing = '}'
	case '[':
		closing = ']'
	}
	if n.Kind == yaml.SequenceNode && closing != ']' {
		return 0, false
	}
	if n.Kind == yaml.MappingNode && !d.braced(n, at) {
		return d.within(n, at, indent)
	}
	end, ok := d.within(n, at+1, indent)
	if !ok {
		return 0, false
	}
	end = d.skip(end, ",:?")
	return end + 1, d.byteAt(end) == closing
}

// braced reports whether the map n at a place has braces of its own. One without, as in [a: 1], begins
// where its first key does.
func (d *document) braced(n *yaml.Node, at int) bool {
	if d.byteAt(at) != '{' {
		return false
	}
	return len(n.Content) == 0 || n.Content[0].Line != n.Line || n.Content[0].Column != n.Column
}

// scalar finds the end of a single value.
func (d *document) scalar(n *yaml.Node, at, indent int) (end int, ok bool) {
	leaf := at
	switch n.Style &^ yaml.TaggedStyle {
	case yaml.DoubleQuotedStyle:
		end, ok = d.quoted(at, '"')
	case yaml.SingleQuotedStyle:
		end, ok = d.quoted(at, '\'')
	case yaml.LiteralStyle, yaml.FoldedStyle:
		leaf, end, ok = d.indented(at, indent)
	default:
		end, ok = d.plain(at, n.Value)
	}
	if ok && end > leaf {
		d.leaves = append(d.leaves, span{leaf, end})
	}
	return end, ok
}

// quoted returns where the quotation that begins at i ends.
func (d *document) quoted(i int, sign byte) (int, bool) {
	if d.byteAt(i) != sign {
		return 0, false
	}
	for i++; i < len(d.text); i++ {
		switch {
		case d.text[i] == '\\' && sign == '"':
			i++
		case d.text[i] == sign && sign == '\'' && d.byteAt(i+1) == sign:
			i++
		case d.text[i] == sign:
			return i + 1, true
		}
	}
	return 0, false
}

// plain returns where a value without quotation marks ends, which stands at i and may run over several
// lines: one line end reads as a space, and of more of them one is left out.
func (d *document) plain(i int, value string) (int, bool) {
	for len(value) > 0 {
		c := d.byteAt(i)
		if c == 0 {
			return 0, false
		}
		if !blank(c) && d.lineEnd(i) == 0 {
			if c != value[0] {
				return 0, false
			}
			i, value = i+1, value[1:]
			continue
		}
		from, ends := i, 0
		for i < len(d.text) && (blank(d.text[i]) || d.lineEnd(i) > 0) {
			if n := d.lineEnd(i); n > 0 {
				i, ends = i+n, ends+1
				continue
			}
			i++
		}
		reads := string(d.text[from:i])
		switch {
		case ends == 1:
			reads = " "
		case ends > 1:
			reads = strings.Repeat("\n", ends-1)
		}
		rest, ok := strings.CutPrefix(value, reads)
		if !ok {
			return 0, false
		}
		value = rest
	}
	return i, true
}

// literally returns where the text that is to stand at i ends.
func (d *document) literally(i int, text string) (int, bool) {
	end := i + len(text)
	return end, end <= len(d.text) && string(d.text[i:end]) == text
}

// indented returns where the lines of a block scalar begin and end, whose | or > stands at i. Blank lines
// after them are left out.
func (d *document) indented(i, indent int) (start, end int, ok bool) {
	if c := d.byteAt(i); c != '|' && c != '>' {
		return 0, 0, false
	}
	least := 0 // the indentation of its lines, once that is known
	for j := i + 1; j < len(d.text) && !blank(d.text[j]) && d.lineEnd(j) == 0; j++ {
		if c := d.text[j]; '1' <= c && c <= '9' {
			least = max(indent, 0) + int(c-'0')
		}
	}
	start = d.endOfLine(i)
	end = start
	for at := start; d.lineEnd(at) > 0; {
		at += d.lineEnd(at)
		spaces := 0
		for d.byteAt(at+spaces) == ' ' {
			spaces++
		}
		stop := d.endOfLine(at)
		if at+spaces < stop {
			if least == 0 {
				least = max(indent+1, spaces)
			}
			if spaces < least {
				break
			}
			end = stop
		}
		at = stop
	}
	return start, end, true
}

// width returns how many characters a text has.
func width(text string) int { return utf8.RuneCountInString(text) }
