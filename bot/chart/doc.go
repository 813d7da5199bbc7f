// Package chart draws pictures for a phone: values in, PNG or SVG out.
//
// Every picture is a sheet of panels below each other, 540 points wide, which
// is 1080 pixels as a PNG. Type is 17 points or more, so that it can be read
// where the sheet is as wide as a phone. What is told by colour is told by
// shape as well. Titles and words come from the caller; a panel's heading names
// what goes up or along and its unit.
package chart
