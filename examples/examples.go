// Package examples is plans a reader can run, as they stand beside this file.
package examples

import "embed"

// Files is the folder that the plans are in, with all that they name in it: a job of one of them is read
// beside it.
//
//go:embed *.yaml *.csv
var Files embed.FS

// Ferry is the plan of the demonstration: herring of folded paper in the waiting room of a ferry
// terminal, on two walls that meet at an inside corner, with all that making them takes. It names a log
// of earlier jobs in Files.
//
//go:embed ferry-terminal.yaml
var Ferry string

// ReadingRoom is a plan in feet and inches: enamelled willow leaves along the reading room of a
// public library, with all that making them takes. It names a log of earlier jobs in Files.
//
//go:embed reading-room.yaml
var ReadingRoom string

// SchoolStair is a plan with a wall that is no rectangle: pebbles of fired clay up the stair of a
// primary school.
//
//go:embed school-stair.yaml
var SchoolStair string

// HealthCentre is a plan of a room that its walls and a ceiling close: felt maple seeds turn over
// the ceiling and go round an outside corner.
//
//go:embed health-centre.yaml
var HealthCentre string
