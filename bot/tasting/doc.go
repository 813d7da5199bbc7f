// Package tasting reads what was said of a coffee cup by cup: which tasting is going
// on, what a message says of its cups, what tastings have come to, how alike the
// people of a bar taste, and how much caffeine that was. Its sums are package
// layers'; its sentences are in package say; the bot begins, records and answers.
package tasting
