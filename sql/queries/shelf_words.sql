-- shelf_words: every wording with its meaning, as it was last written; no compound where the words
--              name none.
-- Params:  (none)
-- Grain:   one row per folded wording.
-- Used by: steps.shelf, steps.shelf_words

select
    words_key,
    arg_max(words, entry_no)         as words,
    arg_max_null(compound, entry_no) as compound
from synonym, known_moment
where recorded_at <= known_at
group by words_key
order by words_key;
