package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/mixing"
)

// mixing reads how kinds lie among one another.
func (r *reader) mixing(yamlfile.Value) mixing.Scheme { return mixing.Scheme{} }
