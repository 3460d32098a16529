-- word_groups: words that are accepted for compounds, as they were last written.
-- Purpose: meaning is what they mean besides; null where they name none, and where nobody said.
-- Params:  (none)
-- Grain:   one row per folded wording with a compound accepted.
-- Used by: steps.accepted_words, steps.bring_in

with written as (
    select words_key, arg_max(words, entry_no) as words
    from accepted_words, known_moment
    where recorded_at <= known_at
    group by words_key
)

select
    words_key,
    written.words,
    list(known_accepted.compound order by compound.label) as accepted,
    any_value(known_meaning.compound)                     as meaning,
    words_key in (select words_key from known_meaning)    as has_meaning
from known_accepted
join written using (words_key)
join compound on compound.compound = known_accepted.compound
left join known_meaning using (words_key)
group by words_key, written.words
order by words_key;
