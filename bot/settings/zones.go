package settings

import (
	"strings"

	"shothand/advisor/taste"
)

// nearestZone returns the zone that was probably meant: its name or its city
// alone, in whatever case, with a slip or two; or nothing.
func nearestZone(said string) string {
	said = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(said)), " ", "_")
	if len(said) < 3 || len(said) > 40 {
		return ""
	}
	best, at := "", 3
	for _, zone := range Zones() {
		low := strings.ToLower(zone)
		for _, name := range []string{low, low[strings.LastIndex(low, "/")+1:]} {
			if d := taste.Edits(said, name); d < at && 2*d < len(name) {
				best, at = zone, d
			}
		}
	}
	return best
}

// Zones are suggested while somebody types one; every other of the IANA names
// is taken, too. One for each rule of clocks that is in wide use, by its
// largest city.
func Zones() []string {
	return []string{
		"Europe/Berlin", "Europe/London", "Europe/Paris", "Europe/Rome", "Europe/Madrid", "Europe/Lisbon", "Europe/Dublin",
		"Europe/Amsterdam", "Europe/Brussels", "Europe/Vienna", "Europe/Zurich", "Europe/Copenhagen", "Europe/Stockholm",
		"Europe/Oslo", "Europe/Helsinki", "Europe/Warsaw", "Europe/Prague", "Europe/Budapest", "Europe/Bucharest",
		"Europe/Athens", "Europe/Istanbul", "Europe/Kyiv", "Europe/Moscow", "Atlantic/Reykjavik",
		"America/New_York", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles", "America/Anchorage",
		"America/Toronto", "America/Vancouver", "America/Halifax", "America/St_Johns", "Pacific/Honolulu",
		"America/Mexico_City", "America/Bogota", "America/Lima", "America/Caracas", "America/Santiago", "America/Sao_Paulo",
		"America/Argentina/Buenos_Aires", "Africa/Cairo", "Africa/Johannesburg", "Africa/Lagos", "Africa/Nairobi", "Africa/Casablanca",
		"Asia/Jerusalem", "Asia/Riyadh", "Asia/Dubai", "Asia/Tehran", "Asia/Karachi", "Asia/Kolkata", "Asia/Kathmandu", "Asia/Dhaka",
		"Asia/Bangkok", "Asia/Jakarta", "Asia/Ho_Chi_Minh", "Asia/Manila", "Asia/Singapore", "Asia/Hong_Kong", "Asia/Taipei",
		"Asia/Shanghai", "Asia/Seoul", "Asia/Tokyo", "Australia/Perth", "Australia/Adelaide", "Australia/Brisbane",
		"Australia/Sydney", "Australia/Melbourne", "Pacific/Auckland", "UTC",
	}
}
