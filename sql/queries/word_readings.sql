-- word_readings: how every wording is read of which somebody has said so.
-- Params:  (none)
-- Grain:   one row per folded wording; names_one and right_for as in the view known_reading.
-- Used by: steps.answers, steps.bring_in, steps.talk

select words_key, names_one, right_for
from known_reading
order by words_key;
