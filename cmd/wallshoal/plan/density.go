package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/density"
	"wallshoal/wall"
)

// density reads how dense the work is where.
func (r *reader) density(yamlfile.Value, wall.Room) density.Scheme { return density.Scheme{} }
