// Package cups is a tasting cup by cup as people go through it: it begins, strikes,
// keeps back what is said until all are in, and compares two shots.
package cups
