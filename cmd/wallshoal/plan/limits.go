package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/outline"
	"wallshoal/wall"
)

// Limits of a plan, gathered here from the packages that hold to them. A plan past one gets a
// message.
const (
	MaxBytes        = yamlfile.MaxBytes    // of the file
	MaxDepth        = yamlfile.MaxDepth    // of maps and lists within one another
	MaxWalls        = wall.MaxWalls        // in the room
	MaxObstructions = wall.MaxObstructions // on one wall
	MaxInRoom       = wall.MaxInRoom       // obstructions in the whole room
	MaxZones        = wall.MaxMarked       // on one wall
	MaxCorners      = wall.MaxCorners      // of one outline
	MaxKinds        = scatter.MaxKinds     // of pieces
	MaxHoles        = scatter.MaxHoles     // in one kind of piece
	MaxPieces       = scatter.MaxPieces    // in all
	MinLength       = wall.MinLength       // mm
	MaxLength       = wall.MaxLength       // mm
	MaxStandOff     = scatter.MaxStandOff  // of a piece, mm
	MaxPathBytes    = outline.MaxPathBytes // of path data
	MaxCurrents     = 32                   // in the flow
)

const (
	maxTitle    = 120 // characters of a line of text
	maxFixing   = 80
	maxPath     = 24  // corners of a cable's path
	maxDrawn    = 100 // points of a current's path
	minCurrent  = 0.001
	maxCurrent  = 1e3 // strength
	farthestOff = 1e9 // how far from its origin a drawing may go before it is scaled, mm
)
