package plan

import "wallshoal/wall"

// surfaceWords returns other words for the surfaces of walls, and which of ours they mean.
func surfaceWords() map[string]string {
	words := map[string]string{}
	for surface, others := range map[wall.Surface][]string{
		wall.Plasterboard: {"drywall", "dry wall", "gypsum", "gypsum board", "wallboard"},
		wall.Timber:       {"wood", "plywood", "panelling", "paneling"},
		wall.Block:        {"cinder block", "breeze block", "concrete block", "blockwork"},
		wall.Brick:        {"brickwork", "masonry"},
		wall.Plaster:      {"lath", "lath and plaster"},
		wall.Tile:         {"ceramic", "ceramic tile"},
		wall.Glass:        {"glazing", "pane", "mirror", "glass brick", "glass block"},
	} {
		for _, other := range others {
			words[other] = string(surface)
		}
	}
	return words
}
