// Package drop plans when each lift is built, what must be on site by then, which
// vehicle brings it, and how it is put out on the platform.
//
// The model. A lift's goods are on the ground at the least lead working days before it
// starts and not more than ahead working days before it; its share is loaded out when it
// starts. Goods come in the order the lifts need them, so a delivery day brings a run of
// that order, as late as the first of it allows; every way to part the order into
// deliveries is tried by a dynamic programme, and inside each delivery the cheapest
// mix of vehicles that holds it in mass and in deck places. Inside a lift three orders are
// tried. The lower bound holds for every plan within lead and ahead, also for those that
// these orders leave out: a plan is called optimal only where it meets that bound.
package drop
