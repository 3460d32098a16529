-- signer_pins: the latest PIN of one person, as a salted digest. PINs are no part of the history, so
--              they are read as they are today.
-- Params:  $person_id
-- Grain:   one row, or none if no PIN was ever set.
-- Used by: steps.signers

select pin_salt, pin_digest
from signer_pin
join known_person on known_person.spelled_id = signer_pin.person_id
where known_person.person_id = $person_id
order by set_at desc
limit 1;
