// Package report answers what looks back: /review, coffees or bars side by side, the page
// of one coffee, and the page that the command line writes. What is asked for is read
// here; package lookback makes the figures and pictures.
package report
