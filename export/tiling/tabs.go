package tiling

// TabRim is how far a cut line keeps from the mark that it goes round, mm.
const TabRim = 0.5
