// Package coursing answers how a height is made up of courses: the gauge, what is
// left over, and what bed joint would make it come right.
package coursing
