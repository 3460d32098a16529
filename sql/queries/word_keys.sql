-- word_keys: own words beside the key under which their meaning is looked up.
-- Params:  (none)
-- Grain:   one row per wording and key.
-- Used by: steps.safekeeping

select words, words_key, count(*) as answers
from answer
where words is not null
group by words, words_key;
