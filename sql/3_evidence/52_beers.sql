-- beer_count: how often each panellist took a glass for a beer, by what it really was.
-- Grain:   one row per panellist x beer x variant x day; what was never served is absent.
-- Reads:   beer_glass
-- Used by: queries/beer_counts

create or replace view beer_count as
select
    person_id,
    beer,
    variant,
    session_on,
    count(*)::integer                         as glasses,
    (count(*) filter (where said_yes))::integer as said_yes
from beer_glass
group by person_id, beer, variant, session_on;
