-- brewer_passphrase: the passphrase of the brewers' pages in force, as a salted digest; both are empty
--          where it was taken away.
-- Purpose: to check what is typed at the door. No passphrase is part of the history, so it is read as
--          it is today.
-- Params:  (none)
-- Grain:   one row, or none if no passphrase was ever set.
-- Used by: steps.brewer_passphrase, steps.passphrase

select passphrase_salt, passphrase_digest
from brewer_passphrase
order by set_at desc
limit 1;
