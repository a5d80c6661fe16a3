// Package yamledit changes single values in a YAML text and leaves every other byte as it is: comments,
// order, blank lines, quotation marks, indentation, line ends, a byte order mark.
//
// A value is found with the YAML reader and changed in the bytes. What comes of it is read again and held
// against the old text with the change made to it, comments included; a text that differs in anything
// else is never returned.
package yamledit

import (
	"errors"
	"slices"

	"wallshoal/wall"
)

// A Change sets, adds or removes one value of a text.
type Change struct {
	Path   []Step // from the top of the file; at least one step
	Value  any    // a string, bool, int, int64, uint64, float64, List or Map; not read where Remove is set
	Remove bool   // take the value out, with its key or its place in the list
	Whole  bool   // the comments on and between the lines of a value that is replaced go with it
}

// A List is a list as a value. It is written in brackets.
type List []any

// A Map is keys with their values as a value, in the order in which they are written, in braces.
type Map []Entry

// An Entry is one key of a Map with its value.
type Entry struct {
	Key   string
	Value any
}

// Apply returns text with the changes made, one after another: an index of a list counts in the text as
// the changes before have left it. The text is one document that holds a map, at most
// yamlfile.MaxBytes long.
//
// Set. A string is the text of the value as the readers of plans see it, who ask nothing about quotation
// marks: "180mm", "7'-6\"", "400". It keeps the quotation marks of what stood there, and gets some only
// where it could not stand without. A value that already is as asked, a number as a number, stays as it
// is written. A comment after the value keeps its column where there is room. A value on several lines is
// replaced as a whole where no comment stands within it, or where the change is Whole.
//
// Add. A key that a map lacks comes after the map's last, in line with the others, before comments
// that follow; in braces it comes last within them. Maps on the way to it that are missing are made. The index
// after the last of a list adds to the list.
//
// Remove. The lines of a value go with the comments on and between them; comments above and below stay.
// A map or a list without anything left is {} or [].
//
// The error joins one wall.Problem for each change that cannot be made: it says where and why. No
// text is returned then.
func Apply(text []byte, changes []Change) ([]byte, error) {
	doc, err := open(text)
	if err != nil {
		return nil, err
	}
	var problems []error
	for _, c := range changes {
		after, err := doc.apply(c)
		if err != nil {
			problems = append(problems, err)
			if doc, err = open(doc.text); err != nil { // the change may have been made to the tree
				return nil, err
			}
			continue
		}
		doc = after
	}
	if len(problems) > 0 {
		return nil, errors.Join(problems...)
	}
	return slices.Clone(doc.text), nil
}

// apply returns the document with a change made. Where that is another one, the tree of d is not to be
// used afterwards.
func (d *document) apply(c Change) (*document, error) {
	field := Field(c.Path)
	if len(c.Path) == 0 {
		return nil, wall.Problem{Field: "the file", Wrong: "is asked to change as a whole", Fix: "name a value in it"}
	}
	var e edit
	var err error
	if c.Remove {
		e, err = d.remove(c.Path)
	} else {
		if err := writable(c.Value, 0); err != "" {
			return nil, wall.Problem{Field: field, Wrong: err, Fix: "give a text, a number, true or false, or a short list or map of them"}
		}
		e, err = d.set(c.Path, c.Value, c.Whole)
	}
	if err != nil || e.tree == nil { // or nothing is to do
		return d, err
	}
	return d.after(e, field)
}
