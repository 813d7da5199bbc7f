// Package settings changes what a bar tells of itself, its coffees, grinders and
// own words, and takes such a change back.
package settings
