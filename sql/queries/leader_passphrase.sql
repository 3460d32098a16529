-- leader_passphrase: the passphrase of the leader's pages in force, as a salted digest.
-- Purpose: to check what is typed at the door. No passphrase is part of the history, so it is read as
--          it is today.
-- Params:  (none)
-- Grain:   one row, or none if no passphrase was ever set.
-- Used by: steps.passphrase

select passphrase_salt, passphrase_digest
from leader_passphrase
order by set_at desc
limit 1;
