-- session_links: the link that holds for each seat of one session.
-- Params:  $session_id
-- Grain:   one row per sitting x person that has a link.
-- Used by: steps.ballot_links, steps.sessions

select
    known_link.sitting_id, person_id, given_to, link_digest, known_link.expires_at, known_link.recorded_at
from known_link
join sitting using (sitting_id)
where session_id = $session_id
order by known_link.sitting_id, person_id;
