-- wordings: every wording that names a compound, as it was last written; what the brewery has a
--           working threshold for stands first.
-- Params:  (none)
-- Grain:   one row per wording.
-- Used by: steps.names_offered, steps.sheets

select arg_max(synonym.words, synonym.entry_no) as words, compound.label
from synonym
join known_meaning using (words_key)
join compound on compound.compound = known_meaning.compound
group by words_key, compound.compound, compound.label
order by compound.compound not in (select compound from known_threshold), compound.label, words;
