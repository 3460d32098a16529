-- panel_languages: in which language somebody's ballot speaks, of everybody for whom it was stated.
-- Params:  (none)
-- Grain:   one row per person.
-- Used by: steps.ballot_languages

select person_id, language
from known_language
order by person_id;
