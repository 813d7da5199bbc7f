package store

// Buckets at the root.
const (
	bucketChannels = "channels" // which bar a channel is
	bucketBars     = "bars"     // everything else
)

// keyBar is the key of what a bar tells of itself, in its bucket.
const keyBar = "bar"

// Buckets of a bar.
const (
	bucketCoffees        = "coffees"
	bucketGrinders       = "grinders"
	bucketDevices        = "devices"
	bucketPeople         = "people"
	bucketAccounts       = "accounts"         // account in the chat → person
	bucketEntries        = "entries"          // in the order of time
	bucketInstants       = "instants"         // entry → its time, the rest of its key
	bucketMessages       = "messages"         // message → entry
	bucketByCoffee       = "by_coffee"        // live entries of a coffee
	bucketByGrinder      = "by_grinder"       // live events and settings of a grinder
	bucketByShot         = "by_shot"          // live words of a shot
	bucketAdvice         = "advice"           // as said
	bucketAdviceByCoffee = "advice_by_coffee" // the order of time
	bucketReplies        = "replies"
	bucketPending        = "pending" // replies not known to be sent
	bucketPosts          = "posts"   // post → what caused it
	bucketSeen           = "seen"    // messages that made no entry
	bucketSeenByTime     = "seen_by_time"
	bucketOnce           = "once" // what was told once
	bucketOnceByTime     = "once_by_time"
	bucketDays           = "days" // what the bot did by itself
)

// barBuckets lists the buckets that every bar has.
func barBuckets() []string {
	return []string{
		bucketCoffees, bucketGrinders, bucketPeople, bucketAccounts,
		bucketEntries, bucketInstants, bucketMessages,
		bucketByCoffee, bucketByGrinder, bucketByShot,
		bucketAdvice, bucketAdviceByCoffee,
		bucketReplies, bucketPending, bucketPosts,
		bucketSeen, bucketSeenByTime, bucketOnce, bucketOnceByTime, bucketDays, bucketDevices,
	}
}
