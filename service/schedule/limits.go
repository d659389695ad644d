package schedule

import "hodman/service/measure"

// Limits of the document. openapi.yaml says the same.
const (
	MaxReference = 200 // characters
	MaxKey       = 64  // characters of a key, a ref, a product code
	MaxWallTypes = 100
	MaxWalls     = 1000
	MaxOpenings  = 200 // a wall
	MaxRestraint = 20  // levels a wall
	MaxLifts     = 100
	MaxStock     = 1000
	MaxQuantity  = 100_000
	// MaxAllOpenings and MaxArea bound the whole schedule, as MaxWork does.
	MaxAllOpenings = 2000
	MaxArea        = 1_000_000 * measure.SquareMetre // of all leaves
	// MaxWork bounds courses x (openings + 1), summed over walls and leaves: some
	// 100 houses. It keeps any document that is let in under a second or two.
	MaxWork = 3_000_000
	// slopeWork is how many courses a course under a slope counts for.
	slopeWork = 20
	// settingOutWork is how many times over a wall counts that is set out in every way, and
	// once more for every nudgedOpenings, which are tried at other sizes: measured, since those
	// layings are counted and not kept.
	settingOutWork = 6
	nudgedOpenings = 2
)

// span is a closed range of lengths in whole millimetres.
type span struct{ least, most measure.Length }

func mm(least, most int64) span {
	return span{measure.Length(least) * measure.Millimetre, measure.Length(most) * measure.Millimetre}
}

func (s span) holds(l measure.Length) bool { return s.least <= l && l <= s.most }

var (
	wallLength     = mm(1, 5_000_000)
	wallHeight     = mm(1, 100_000)
	level          = mm(-100_000, 100_000)
	openingLeft    = mm(0, 5_000_000)
	pierWidth      = mm(50, 5_000)
	pierProjection = mm(20, 2_000)
	standsAt       = mm(0, 5_000_000)
	openingSill    = mm(0, 100_000)
	openingWidth   = mm(1, 50_000)
	openingHeight  = mm(1, 100_000)
	rise           = mm(0, 50_000)
	apexAt         = mm(0, 5_000_000)
	unitLength     = mm(20, 2_000)
	unitThickness  = mm(20, 1_000)
	unitHeight     = mm(20, 1_000)
	joint          = mm(3, 30)
	collar         = mm(5, 15) // also between headers
	cavityWidth    = mm(25, 500)
	insulation     = mm(0, 500)
	bearing        = mm(50, 1_000)
	liftHeight     = mm(300, 6_000)
	allowance      = mm(0, 50)
)

const (
	// leastPanel is how much masonry stands beside a movement joint at least.
	leastPanel = 225 * measure.Millimetre

	leastMass = measure.Gram
	mostMass  = 200 * measure.Kilogram
	mostPack  = 10_000
)
