// Package store keeps the bot's records in one bbolt file.
//
// The file is this tree; update it first. Numbers in keys are 8 bytes, big
// endian, so that byte order is the order to read in; a time is nanoseconds
// since 1970 with its sign flipped, so that it is ordered before 1970 too.
//
//	shothand                    ours, and how old
//	├── format                  → "shothand records"
//	├── version                 → the schema's version, in digits
//	└── traces                  → "yes" from a Forget to the compaction after it
//	channels
//	└── channel                 → bar
//	bars
//	└── bar
//	    ├── bar                 → barRecord
//	    ├── coffees
//	    │   └── coffee          → coffeeRecord
//	    ├── grinders
//	    │   └── grinder         → bar.Grinder
//	    ├── devices
//	    │   └── device          → bar.Device
//	    ├── people
//	    │   └── person          → bar.Person
//	    ├── accounts
//	    │   └── account         → person
//	    ├── entries             all of them, deleted ones too
//	    │   └── time, entry     → entryRecord
//	    ├── instants
//	    │   └── entry           → time
//	    ├── messages
//	    │   └── message         → entry
//	    ├── by_coffee           shots, told, dialled, settings, layers; none deleted
//	    │   └── coffee, time, entry  → kind of entry
//	    ├── by_grinder          told, settings; none deleted; 0 is the whole bar
//	    │   └── grinder, time, entry → kind of entry
//	    ├── by_shot             words that came later, sips of layers; none deleted
//	    │   └── shot, entry     → kind of entry
//	    ├── advice              as it was said
//	    │   └── entry           → adviceRecord
//	    ├── advice_by_coffee
//	    │   └── coffee, time, entry  → nothing
//	    ├── replies
//	    │   └── cause           → replyRecord
//	    ├── pending             replies not known to be sent
//	    │   └── time, cause     → nothing
//	    ├── posts
//	    │   └── post            → postRecord
//	    ├── seen                messages that made no entry
//	    │   └── message         → time
//	    ├── seen_by_time
//	    │   └── time, message   → nothing
//	    ├── once                what was told once
//	    │   └── what            → time
//	    ├── once_by_time
//	    │   └── time, what      → nothing
//	    └── days                what the bot did by itself
//	        └── day             → dayRecord
//
// A record is JSON, a space, and eight hex digits: the CRC-32C of its key and
// the JSON, for bbolt sums only its two meta pages. What package bar has is kept
// as it is, each field under the name in its tag, which names its unit; so are
// [Said], [Reply] and [Deed]. Add fields; never rename or retype one in the file.
// What a program writes that is newer than this one but of the same version is
// read without the fields that are not known here.
package store
