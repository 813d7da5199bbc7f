// Package bar says what a bar is: its units and ids, its coffees, grinders and
// people, and what happened there, entry by entry. It is what the advisor reads,
// the store keeps and the chat talks of, and it imports none of them.
package bar
