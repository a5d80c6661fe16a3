package plane

// A Region is a part of a face: any number of polygons, with or without holes, that do not
// overlap. Its zero value is empty. Regions are values; no method changes one.
type Region struct{ polygons []Polygon }

// A Polygon is one connected part of a region: a counter-clockwise outer ring and clockwise holes.
type Polygon struct {
	Outer Ring
	Holes []Ring
}
