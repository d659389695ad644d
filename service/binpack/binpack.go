// Package binpack is the one exact packer: cuts out of whole units, plates out of
// stock lengths, packs into vehicles.
package binpack
