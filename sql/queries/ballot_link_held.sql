-- ballot_link_held: whether a link was made, has not run out and was not replaced.
-- Params:  $link_digest, $now
-- Grain:   one row, or none.
-- Used by: steps.ballot_seats

select link_digest
from ballot_link as link
where link_digest = $link_digest
  and expires_at >= $now
  and not exists (
      select 1
      from ballot_link as newer
      where newer.sitting_id = link.sitting_id
        and newer.person_id = link.person_id
        and newer.entry_no > link.entry_no
  );
