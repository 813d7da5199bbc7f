package bot

import "shothand/bot/say"

// in returns the language of the bar, in which all may read the answer.
func (t *turn) in() say.Lang { return say.In(t.bar.Language) }

// own returns the language of the person who wrote, for what they alone read.
func (t *turn) own() say.Lang { return t.in() }

// in returns the language of the bar.
func (r *room) in() say.Lang { return say.In(r.bar.Language) }
