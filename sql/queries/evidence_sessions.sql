-- evidence_sessions: from how many sessions the evidence about a beer family comes, and from when.
-- Params:  $family, $until_on
-- Grain:   one row; its days are null where there is no session.
-- Used by: steps.panel_day_grounds

select
    count(distinct session_id)::integer as sessions,
    count(*)::integer                   as glasses,
    min(session_on)                     as first_on,
    max(session_on)                     as last_on
from scored_answer
where family = $family
  and session_on <= $until_on;
