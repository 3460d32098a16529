-- rulebooks: the rulebooks that were adopted, in the order in which they count.
-- Params:  (none)
-- Grain:   one row per adopted text.
-- Used by: steps.desk

select rulebook_digest, name, version, counts_from_on, rulebook_text, entry_no, recorded_at
from known_rulebook
order by counts_from_on, entry_no;
