-- meanings: which words mean which compound.
-- Params:  (none)
-- Grain:   one row per folded wording.
-- Used by: steps.accepted_words, steps.words

select words_key, compound
from known_meaning
order by words_key;
