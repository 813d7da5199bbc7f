// Package figures finds out which of a shot's numbers, its dose, yield, time or dial, a
// bare number is, and puts that one right or back.
package figures
