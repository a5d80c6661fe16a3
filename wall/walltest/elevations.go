// Package walltest holds walls that tend to break things, for tests.
package walltest

import (
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Elevations returns walls of awkward shapes, each named after what is awkward about it. All are
// sound: a check finds nothing wrong with them.
func Elevations() []wall.Wall {
	var (
		box = plane.Rectangle(plane.Point{}, 4000, 2500)
		l   = plane.Ring{{X: 0, Y: 0}, {X: 4000, Y: 0}, {X: 4000, Y: 1000}, {X: 1500, Y: 1000}, {X: 1500, Y: 2500}, {X: 0, Y: 2500}}
	)
	return []wall.Wall{
		{Name: "no obstruction", Surface: wall.Plaster, Outline: box, Margin: 50},
		{Name: "all obstruction", Surface: wall.Plaster, Outline: box, Obstructions: []wall.Obstruction{
			at(wall.Fixture, 0, 0, 4000, 2500, 0),
		}},
		{Name: "all clearance", Surface: wall.Plaster, Outline: box, Obstructions: []wall.Obstruction{
			at(wall.Fixture, 1900, 1200, 200, 100, 3000),
		}},
		{Name: "sliver", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 3000, 40), Margin: 5},
		{Name: "pillar", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 60, 2500), Margin: 5},
		{Name: "L", Surface: wall.Plaster, Outline: l, Margin: 40},
		{Name: "touching edges", Surface: wall.Plaster, Outline: box, Obstructions: []wall.Obstruction{
			at(wall.Shelf, 0, 0, 1000, 500, 0),
			at(wall.Shelf, 1000, 0, 1000, 500, 0),
			at(wall.Shelf, 1000, 500, 1000, 2000, 0),
			at(wall.Shelf, 3000, 2000, 1000, 500, 0),
		}},
		{Name: "overlapping", Surface: wall.Plaster, Outline: box, Margin: 20, Obstructions: []wall.Obstruction{
			at(wall.Window, 500, 800, 1200, 1100, 60),
			at(wall.Radiator, 600, 100, 1000, 650, 100),
			at(wall.Column, 1600, 0, 300, 2500, 0),
			at(wall.Sign, 1650, 1200, 400, 300, 10),
		}},
		{Name: "gable", Surface: wall.Plaster, Margin: 30, Outline: plane.Ring{
			{X: 0, Y: 0}, {X: 4000, Y: 0}, {X: 4000, Y: 1500}, {X: 1800, Y: 3100}, {X: 0, Y: 1500},
		}},
		{Name: "stair", Surface: wall.Plaster, Margin: 25, Outline: plane.Ring{
			{X: 0, Y: 0}, {X: 900, Y: 0}, {X: 3000, Y: 1470}, {X: 4000, Y: 1470}, {X: 4000, Y: 3900}, {X: 2900, Y: 3900}, {X: 0, Y: 2400},
		}},
		{Name: "steps", Surface: wall.Plaster, Outline: plane.Ring{
			{X: 0, Y: 0}, {X: 300, Y: 0}, {X: 300, Y: 180}, {X: 580, Y: 180}, {X: 580, Y: 360}, {X: 860, Y: 360},
			{X: 860, Y: 540}, {X: 2000, Y: 540}, {X: 2000, Y: 2800}, {X: 0, Y: 2800},
		}},
		{Name: "hole in the middle", Surface: wall.Plaster, Outline: box, Margin: 60, Obstructions: []wall.Obstruction{
			{
				Kind: wall.Window, Name: "porthole", Round: true, Clearance: 40,
				Shape: plane.Ellipse(plane.Point{X: 2000, Y: 1250}, 600, 600, 96),
			},
		}},
		{Name: "island", Surface: wall.Plaster, Outline: box, Obstructions: []wall.Obstruction{
			at(wall.Boxing, 1000, 500, 2000, 200, 0), at(wall.Boxing, 1000, 1700, 2000, 200, 0),
			at(wall.Boxing, 1000, 700, 200, 1000, 0), at(wall.Boxing, 2800, 700, 200, 1000, 0),
		}},
		{Name: "cut in two", Surface: wall.Plaster, Outline: box, Margin: 10, Obstructions: []wall.Obstruction{
			at(wall.Column, 1900, 0, 200, 2500, 15),
		}},
		{Name: "corners touch", Surface: wall.Plaster, Outline: box, Obstructions: []wall.Obstruction{
			at(wall.Niche, 1000, 500, 1000, 1000, 0), at(wall.Niche, 2000, 1500, 1000, 1000, 0),
		}},
	}
}

// at returns an upright obstruction with its bottom-left corner at x, y.
func at(kind wall.ObstructionKind, x, y, width, height, clearance float64) wall.Obstruction {
	return wall.Obstruction{
		Kind: kind, Name: string(kind), Clearance: clearance,
		Shape: plane.Rectangle(plane.Point{X: x, Y: y}, width, height),
	}
}
