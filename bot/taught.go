package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// What the state of a button about a word of the bar's own begins with.
const (
	pressTeach   = "teach"   // an unread word is to be taught: asks what it means
	pressMeans   = "means"   // what it means, "gribbly=sour"
	pressUnteach = "unteach" // a taught word is to be forgotten
)

// Bounds of what can be tapped. Longer words than longestTaught are taught by
// /setup, for a button holds only so much.
const (
	mostTeach     = 2
	longestTaught = 24
)

// firstHeard returns the unread words that no other message of the last days
// held: a word is said to be unread once.
func (r *room) firstHeard(of bar.Entry, unread []string) []string {
	old := map[string]bool{}
	for _, e := range r.recent {
		if e.ID == of.ID {
			continue
		}
		for _, word := range unreadOf(e) {
			old[bar.Normal(word)] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(unread), func(word string) bool { return old[bar.Normal(word)] })
}

// unreadOf returns the words of an entry that nobody could place.
func unreadOf(e bar.Entry) []string {
	if s, ok := e.What.(bar.Shot); ok {
		return s.Unread
	}
	w, _ := e.What.(bar.Words)
	return w.Unread
}

// teachButtons returns a button for each of some unread words, as many as there
// is room for.
func teachButtons(l say.Lang, shot bar.EntryID, unread []string, room int) []chat.Button {
	var list []chat.Button
	for _, word := range unread {
		if key := bar.Normal(word); key != "" && len(key) <= longestTaught && len(list) < min(room, mostTeach) {
			list = append(list, chat.Button{Label: l.TeachLabel(word), State: pressState(pressTeach, shot, key)})
		}
	}
	return list
}

// pressTeach asks what a word means here.
func (t *turn) pressTeach(e bar.Entry, word string) ([]Out, error) {
	p := t.post(chat.Question, t.in().TeachQuestion(word))
	for _, m := range say.TeachMeanings() {
		p.Buttons = append(p.Buttons, chat.Button{Label: t.in().MeansLabel(m), State: pressState(pressMeans, e.ID, word+"="+m)})
	}
	return []Out{{Post: p}}, nil
}

// pressMeans teaches a word, and advises on the coffee of its shot again.
func (t *turn) pressMeans(e bar.Entry, arg string) ([]Out, error) {
	word, means, _ := strings.Cut(arg, "=")
	if old, ok := t.bar.Words.Means(word); ok && old == means {
		return nil, nil // tapped twice
	}
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if err := t.ownWords(t.bar.Words.Teach(word, means)); err != nil {
		return nil, err
	}
	post, err := t.again(s.Coffee, t.in().Taught(word, means))
	return []Out{{Post: post}}, err
}

// pressUnteach forgets a word that was taught.
func (t *turn) pressUnteach(word string) ([]Out, error) {
	if _, ok := t.bar.Words.Means(word); !ok {
		return nil, nil
	}
	err := t.ownWords(t.bar.Words.Forget(word))
	return t.say(chat.Recorded, t.in().Untaught(word)), err
}

// ownWords changes the bar's own words, so that it can be undone.
func (t *turn) ownWords(words bar.OwnWords) error {
	bar := t.bar
	bar.Words = words
	err := t.changeBar(bar)
	t.bar = bar
	return err
}

// wordsHelp lists the bar's own words, with a button to forget each of the
// first.
func (t *turn) wordsHelp() ([]Out, error) {
	list := t.bar.Words.List()
	p := t.post(chat.Info, t.in().OwnWords(list))
	for _, o := range list[:min(len(list), maxButtons)] {
		p.Buttons = append(p.Buttons, chat.Button{Label: t.in().UnteachLabel(o.Word), State: pressState(pressUnteach, 0, o.Word)})
	}
	return []Out{{Post: p}}, nil
}

// taught returns the words with the one that /setup names taught or forgotten.
func taught(l say.Lang, words bar.OwnWords, word, means string) (bar.OwnWords, error) {
	key := bar.Normal(word)
	switch {
	case means == "":
		return words, parse.Mistake{Kind: parse.MissingOption, What: "means", Would: "sour, bitter, thin, nice, any other word of taste, nothing or forget"}
	case key == "" || strings.Contains(key, " ") || len(key) > say.MaxName:
		return words, parse.Mistake{Kind: parse.BadOption, What: "word:" + word, Would: "one word"}
	case strings.EqualFold(means, "forget"):
		return words.Forget(key), nil
	case parse.None(means), strings.EqualFold(means, "nothing"):
		return words.Teach(key, ""), nil
	}
	read, unread := taste.Default().Read(means)
	if len(read) != 1 || len(unread) > 0 || read[0].Not || read[0].Than || read[0].Degree != 1 {
		return words, parse.Mistake{Kind: parse.BadOption, What: "means:" + means, Would: "one word of taste that I know, nothing or forget"}
	}
	if known, _ := taste.Default().Read(key); len(known) > 0 {
		return words, mistake(l.KnownWord(word))
	}
	return words.Teach(key, read[0].Term), nil
}
