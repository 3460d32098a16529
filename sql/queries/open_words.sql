-- open_words: own words that stand for no compound yet.
-- Params:  (none)
-- Grain:   one row per folded wording, the most frequent first.
-- Used by: steps.words

select words_key, min(words) as words, count(*)::integer as answers
from known_answer
where kind = 'words'
  and words_key not in (select words_key from known_meaning)
group by words_key
order by answers desc, words_key;
