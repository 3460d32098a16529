-- ballot_odd_code: which code of a forced-choice set is the odd one's; asked only when a pick is stored.
-- Params:  $serving_id
-- Grain:   one row.
-- Used by: steps.ballot_forms

select blind_code
from serving
where serving_id = $serving_id;
