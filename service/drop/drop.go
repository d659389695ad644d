// Package drop plans when each lift is built, what must be on site by then, which
// vehicle brings it, and how it is put out on the platform.
package drop
