module wallshoal/scatter/poisson/peer

go 1.26.0

replace wallshoal => ../../..

require wallshoal v0.0.0

require (
	github.com/fogleman/poissondisc v0.0.0-20190923201222-9b82984c50c5
	github.com/peterstace/simplefeatures v0.59.0 // indirect
)
