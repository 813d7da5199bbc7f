// Package bar says what a bar is: its units and ids, its coffees, grinders and
// people, and what happened there, entry by entry. It is what the advisor reads,
// the store keeps and the chat talks of, and it imports none of them.
//
// A closed set has one list of names beside its constants; records hold the names.
// What lies inside a record of the store carries its JSON names, with their units;
// records add fields and never rename one.
package bar
