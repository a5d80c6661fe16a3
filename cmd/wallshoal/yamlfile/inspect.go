package yamlfile

import (
	"fmt"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// A path is the way from the top of the file to a value. It is only spelt out for a fault.
type path struct {
	above *path
	key   string
	index int // of a list item, where key is empty
}

func (p *path) String() string {
	switch {
	case p == nil:
		return ""
	case p.key == "":
		return p.above.String() + "[" + strconv.Itoa(p.index) + "]"
	}
	return join(p.above.String(), p.key)
}

// inspect complains of everything in the tree under n that no file of ours may hold.
func (f *File) inspect(n *yaml.Node, p *path, depth int) {
	if depth > MaxDepth {
		if !f.bad[f.root] {
			f.complain(n, p.String(), fmt.Sprintf("maps and lists stand more than %d deep within one another", MaxDepth), "write it flatter")
			f.bad[f.root] = true
		}
		return
	}
	if n.Anchor != "" {
		f.add(n.Line, n.Column, p.String(), "&"+clean(n.Anchor)+" names a part of the file to repeat it", "remove it, and put text that starts with & in quotation marks")
	}
	if n.Style&yaml.TaggedStyle != 0 {
		f.add(n.Line, n.Column, p.String(), clean(n.Tag)+" is a type tag", "remove it, and put text that starts with ! in quotation marks")
	}
	switch n.Kind {
	case yaml.AliasNode:
		f.complain(n, p.String(), "*"+clean(n.Value)+" repeats another part of the file", "write it out here")
	case yaml.MappingNode:
		f.inspectMap(n, p, depth)
	case yaml.SequenceNode:
		for i, item := range n.Content {
			f.inspect(item, &path{above: p, index: i}, depth+1)
		}
	}
}

func (f *File) inspectMap(n *yaml.Node, above *path, depth int) {
	first := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		line, twice := first[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode || key.Value == "" || key.Anchor != "" || key.Style&yaml.TaggedStyle != 0:
			f.complain(key, above.String(), "a key is no plain word", "write lines like title: My wall")
		case key.Tag == "!!merge":
			f.complain(key, above.String(), "<< takes in another part of the file", "write its lines out here")
		case twice:
			f.complain(key, join(above.String(), key.Value), fmt.Sprintf("is given twice, first in line %d", line), "keep one of them")
		default:
			first[key.Value] = key.Line
			f.inspect(value, &path{above: above, key: key.Value}, depth+1)
		}
	}
}

// complain files a fault of the node n, once, and leaves n unread.
func (f *File) complain(n *yaml.Node, field, wrong, fix string) {
	if !f.bad[n] {
		f.bad[n] = true
		f.add(n.Line, n.Column, field, wrong, fix)
	}
}

// join returns the path of key in the map at field.
func join(field, key string) string {
	if field == "" {
		return clean(key)
	}
	return field + "." + clean(key)
}

// clean returns text as it can stand in a message without quotation marks.
func clean(text string) string {
	if len(text) < 40 && !strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r > '~' }) {
		return text
	}
	quoted := Quote(text)
	return quoted[1 : len(quoted)-1]
}

// locate returns where the field stands, or the deepest part of its path that the file has.
func (f *File) locate(field string) (line, column int) {
	n := f.root
	line, column = n.Line, n.Column
	for _, step := range steps(field) {
		key, value := child(n, step)
		if value == nil {
			return line, column
		}
		line, column, n = key.Line, key.Column, value
	}
	return line, column
}

// steps returns the keys and the bracketed indexes of a path, in order.
func steps(field string) []string {
	return strings.FieldsFunc(strings.ReplaceAll(field, "[", ".["), func(r rune) bool { return r == '.' })
}

// child returns the node that step leads to from n and the node that shows its place: the key in
// a map, the item itself in a list. It returns nil where there is none.
func child(n *yaml.Node, step string) (place, value *yaml.Node) {
	switch {
	case n.Kind == yaml.SequenceNode && strings.HasPrefix(step, "["):
		i, err := strconv.Atoi(strings.Trim(step, "[]"))
		if err == nil && 0 <= i && i < len(n.Content) {
			return n.Content[i], n.Content[i]
		}
	case n.Kind == yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if clean(n.Content[i].Value) == step {
				return n.Content[i], n.Content[i+1]
			}
		}
	}
	return nil, nil
}
