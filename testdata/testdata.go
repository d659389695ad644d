// Package testdata holds documents that the demo and the tests of several
// packages share. All of them are invented.
package testdata

import _ "embed"

// RearWing is the wall schedule of a two-storey rear wing with cavity walls: an
// external and an internal corner between two abutments, a gable, nine openings,
// a door head and a plate level that do not suit the blocks, and stock that lacks
// one lintel's first choice.
//
//go:embed schedules/rear-wing.json
var RearWing []byte

// Garage is a schedule of walls that meet in every way: a garage of 140 mm blocks that turns
// the corner of a cavity wall, a short return, a store bonded into the inner leaf, a yard
// wall tied to the outer one with piers and a plinth, crossed by another, and a gate pier.
//
//go:embed schedules/garage.json
var Garage []byte

// BuiltIn is a schedule that asks for all that is built in: roofs that abut, levels of damp-proof
// courses, air bricks, reinforced beds, a padstone and a ready-made sill.
//
//go:embed schedules/built-in.json
var BuiltIn []byte

// RearWingDrops is the drop plan request that goes with it: programme, scaffold,
// yard and vehicles. The goods themselves are not in it: add a takeoff or a schedule.
//
//go:embed drops/rear-wing.json
var RearWingDrops []byte
