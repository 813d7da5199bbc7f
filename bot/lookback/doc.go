// Package lookback reads what happened in a bar over days and weeks and shows it:
// the review with its pictures, the page of a bar, the pictures of one coffee, of a
// drift and of a tasting cup by cup. What the review says in words is in package say.
package lookback
