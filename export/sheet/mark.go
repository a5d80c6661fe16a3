package sheet

import "wallshoal/export/tiling"

// markCorner names the corner of the sheet where its black mark stands.
func (l *Leaf) markCorner() string {
	left, right := l.Print.Sides()
	for i, c := range l.MarkCorners() {
		if c.Distance(l.mark) < tiling.Touch {
			return "mark at " + []string{"top " + left, "top " + right, "bottom " + left, "bottom " + right}[i]
		}
	}
	return "mark within the sheet"
}
