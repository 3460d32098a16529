-- history_parts: what each act of recording put on record, table by table, in words and counts.
-- Purpose: what was in a glass and what was said to it stay out, so that the list can be read before
--          a session is revealed; so does what somebody is not to be served.
-- Params:  (none)
-- Grain:   one row per history entry x kind of fact, person and session concerned.
-- Used by: steps.history_lines

with in_set as (
    select serving_id, string_agg(blind_code, '/' order by place) as codes
    from set_glass
    group by serving_id
),

glass as (
    select
        serving.serving_id,
        serving.person_id,
        sitting.session_id,
        coalesce(in_set.codes, blind_code, position::varchar, '') as code
    from serving
    join sample using (sample_id)
    join sitting using (sitting_id)
    left join in_set using (serving_id)
),

stated as (
    select 'import_file' as part, entry_no, null as person_id, null as session_id,
        rows_read as number, null as is_so, file_name as words, rows_added::varchar as more,
        null as reason, null as first_on, null as last_on
    from import_file
    union all by name
    select 'shelf_file' as part, entry_no, file_name as words
    from shelf_file
    union all by name
    select 'brewery' as part, entry_no, 1 as number, label as words
    from brewery
    union all by name
    select 'compound' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words
    from compound
    group by entry_no
    union all by name
    select 'synonym' as part, synonym.entry_no, count(*) as number,
        string_agg(words, '|' order by words) as words,
        string_agg(distinct coalesce(label, ''), '|') as more
    from synonym
    left join compound using (compound)
    group by synonym.entry_no
    union all by name
    select 'accepted_words' as part, accepted_words.entry_no, is_accepted as is_so,
        string_agg(label, '|' order by label) as words, any_value(words) as more
    from accepted_words
    join compound using (compound)
    group by accepted_words.entry_no, words_key, is_accepted
    union all by name
    select 'beer_family' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words
    from beer_family
    group by entry_no
    union all by name
    select 'base_beer' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words
    from base_beer
    group by entry_no
    union all by name
    select 'working_threshold' as part, working_threshold.entry_no, count(*) as number,
        string_agg(distinct label, '|' order by label) as words, min(valid_from_on) as first_on,
        max(valid_from_on) as last_on
    from working_threshold
    join compound using (compound)
    group by working_threshold.entry_no
    union all by name
    select 'background' as part, background.entry_no, count(*) as number,
        string_agg(distinct label, '|' order by label) as words, min(valid_from_on) as first_on,
        max(valid_from_on) as last_on
    from background
    join compound using (compound)
    group by background.entry_no
    union all by name
    select 'keeping' as part, keeping.entry_no, count(*) as number,
        string_agg(distinct label, '|' order by label) as words, min(valid_from_on) as first_on,
        max(valid_from_on) as last_on
    from keeping
    join compound using (compound)
    group by keeping.entry_no
    union all by name
    select 'person' as part, entry_no, count(*) as number
    from person
    group by entry_no
    union all by name
    select 'same_person' as part, entry_no, is_same as is_so, one.spelling as words,
        other.spelling as more
    from same_person
    left join person_name as one on one.person_id = same_person.person_id
    left join person_name as other on other.person_id = same_person.stands_for
    union all by name
    select 'panellist' as part, entry_no, person_id, is_panellist as is_so, since_on as first_on
    from panellist
    union all by name
    select 'not_served' as part, entry_no, person_id, count(*) as number,
        bool_or(is_in_force) as is_so
    from not_served
    group by entry_no, person_id
    union all by name
    select 'made_anonymous' as part, entry_no, person_id
    from made_anonymous
    union all by name
    select 'retention' as part, entry_no, coalesce(keep_months, 0) as number
    from retention
    union all by name
    select 'kept_longer' as part, entry_no, person_id, until_on as last_on
    from kept_longer
    union all by name
    select 'person_copy' as part, entry_no, person_id
    from person_copy
    union all by name
    select 'plan' as part, plan.entry_no, session_id, purpose as words
    from plan
    union all by name
    select 'session' as part, entry_no, count(*) as number, min(session_on) as first_on,
        max(session_on) as last_on
    from session
    group by entry_no
    union all by name
    select 'serving' as part, entry_no, count(*) as number,
        count(distinct person_id)::varchar as more
    from serving
    group by entry_no
    union all by name
    select 'answer' as part, answer.entry_no, min(person_id) as person_id,
        if(count(distinct session_id) = 1, min(session_id), null) as session_id,
        count(*) as number, min(code) as words,
        count(distinct person_id)::varchar as more
    from answer
    join glass using (serving_id)
    group by answer.entry_no
    union all by name
    select 'phone_answer' as part, phone_answer.entry_no, person_id, session_id, code as words,
        exists (
            select 1
            from answer
            where answer.serving_id = phone_answer.serving_id and answer.entry_no < phone_answer.entry_no
        ) as is_so
    from phone_answer
    join glass using (serving_id)
    union all by name
    select 'ballot_link' as part, ballot_link.entry_no,
        if(count(distinct person_id) = 1, min(person_id), null) as person_id,
        min(session_id) as session_id, count(*) as number
    from ballot_link
    join sitting using (sitting_id)
    group by ballot_link.entry_no
    union all by name
    select 'ballot_language' as part, entry_no, person_id, language as words
    from ballot_language
    union all by name
    select 'set_aside' as part, set_aside.entry_no, min(person_id) as person_id,
        if(count(distinct session_id) = 1, min(session_id), null) as session_id,
        count(*) as number, is_aside as is_so, min(code) as words,
        count(distinct person_id)::varchar as more,
        if(count(distinct reason) > 1, 'several reasons', min(reason)) as reason
    from set_aside
    join glass using (serving_id)
    group by set_aside.entry_no, is_aside
    union all by name
    select 'sample_aside' as part, sample_aside.entry_no, min(session_id) as session_id,
        count(*) as number, is_aside as is_so, string_agg(mark, '|' order by mark) as words,
        min(reason) as reason
    from sample_aside
    join sample using (sample_id)
    join sitting using (sitting_id)
    group by sample_aside.entry_no, is_aside
    union all by name
    select 'correction' as part, correction.entry_no, person_id, session_id, code as words, reason
    from correction
    join glass using (serving_id)
    union all by name
    select 'session_end' as part, session_end.entry_no, session_id, how as words
    from session_end
    union all by name
    select 'sitting_over' as part, sitting_over.entry_no, session_id, is_over as is_so,
        sitting.label as words
    from sitting_over
    join sitting using (sitting_id)
    union all by name
    select 'sitting_person' as part, sitting_person.entry_no, person_id, session_id, state as words,
        if(history.kind = 'fit today', 'own word', '') as more
    from sitting_person
    join sitting using (sitting_id)
    join history on history.entry_no = sitting_person.entry_no
    where sitting_person.entry_no not in (select entry_no from plan)
    union all by name
    select 'sample_state' as part, sample_state.entry_no, min(session_id) as session_id,
        string_agg(mark, '|' order by mark) as words
    from sample_state
    join sample using (sample_id)
    join sitting using (sitting_id)
    group by sample_state.entry_no
    union all by name
    select 'spare_taken' as part, spare_taken.entry_no, person_id, session_id
    from spare_taken
    join sitting using (sitting_id)
    union all by name
    select 'glass_event' as part, glass_event.entry_no, person_id, session_id, code as words,
        kind as more
    from glass_event
    join glass using (serving_id)
    union all by name
    select 'poured_instead' as part, poured_instead.entry_no, min(session_id) as session_id,
        string_agg(code, '|' order by code) as words
    from poured_instead
    join glass using (serving_id)
    group by poured_instead.entry_no
    union all by name
    select 'preparer' as part, preparer.entry_no, person_id, session_id, is_preparer as is_so
    from preparer
    where preparer.entry_no not in (select entry_no from plan)
    union all by name
    select 'recoding' as part, entry_no, person_id, session_id, is_recoded as is_so
    from recoding
    union all by name
    select 'pipette' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words, bool_and(is_in_use) as is_so
    from pipette
    group by entry_no
    union all by name
    select 'container' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words, bool_and(is_in_use) as is_so
    from container
    group by entry_no
    union all by name
    select 'stock' as part, entry_no, count(*) as number,
        string_agg(label, '|' order by label) as words, bool_and(made_from is not null) as is_so
    from stock
    group by entry_no
    union all by name
    select 'stock_state' as part, stock_state.entry_no, count(*) as number,
        string_agg(
            concat(label, coalesce(' (last day ' || strftime(expires_on, '%-d %B %Y') || ')', '')),
            '|' order by label
        ) as words
    from stock_state
    join stock using (stock_id)
    group by stock_state.entry_no
    union all by name
    select 'compound_limit' as part, compound_limit.entry_no, count(*) as number,
        string_agg(distinct label, '|' order by label) as words, min(valid_from_on) as first_on,
        max(valid_from_on) as last_on
    from compound_limit
    join compound using (compound)
    group by compound_limit.entry_no
    union all by name
    select 'recipe' as part, recipe.entry_no, session_id, count(*) as number
    from recipe
    group by recipe.entry_no, session_id
    union all by name
    select 'vessel_dosed' as part, vessel_dosed.entry_no, session_id, is_done as is_so,
        string_agg(distinct concat(mark, vessel_no), '|' order by concat(mark, vessel_no)) as words
    from vessel_dosed
    join sample using (sample_id)
    join sitting using (sitting_id)
    group by vessel_dosed.entry_no, session_id, is_done
    union all by name
    select 'vessel_step' as part, vessel_step.entry_no, session_id, is_done as is_so, step as more,
        string_agg(distinct concat(mark, vessel_no), '|' order by concat(mark, vessel_no)) as words
    from vessel_step
    join sample using (sample_id)
    join sitting using (sitting_id)
    group by vessel_step.entry_no, session_id, is_done, step
    union all by name
    select 'vessel_remark' as part, vessel_remark.entry_no, session_id,
        string_agg(distinct concat(mark, vessel_no), '|' order by concat(mark, vessel_no)) as words
    from vessel_remark
    join sample using (sample_id)
    join sitting using (sitting_id)
    group by vessel_remark.entry_no, session_id
    union all by name
    select 'rulebook' as part, entry_no, name as words, version as number,
        counts_from_on as first_on
    from rulebook
    union all by name
    select 'brewer_sight' as part, entry_no, sees_scores as is_so
    from brewer_sight
    union all by name
    select 'signer' as part, entry_no, person_id, is_signer as is_so,
        if(lag(is_signer) over (partition by person_id order by entry_no), 'again', '') as more
    from signer
    union all by name
    select 'proposal' as part, proposal.entry_no, person_id, state as words,
        coalesce(label, proposal.family) as more, until_on as last_on
    from proposal
    left join known_family using (family)
    union all by name
    select 'proposal_reply' as part, proposal_reply.entry_no, person_id, kind as words,
        words as reason
    from proposal_reply
    join proposal using (proposal_id)
    union all by name
    select 'decision' as part, decision.entry_no, person_id, state as words,
        coalesce(label, decision.family) as more, reason, from_on as first_on, until_on as last_on
    from decision
    left join known_family using (family)
    union all by name
    select 'batch' as part, entry_no, label as words
    from batch
    union all by name
    select 'batch_crew' as part, batch_crew.entry_no, person_id, is_crew as is_so, label as words
    from batch_crew
    join batch using (batch_id)
    union all by name
    select 'talk' as part, talk.entry_no, session_id, is_open as is_so, sitting.label as words
    from talk
    join sitting using (sitting_id)
    union all by name
    select 'talk_answer' as part, talk_answer.entry_no, session_id, person_id, count(*) as number
    from talk_answer
    join glass using (serving_id)
    group by talk_answer.entry_no, session_id, person_id
    union all by name
    select 'chosen_panel' as part, chosen_panel.entry_no, count(person_id) as number,
        coalesce(any_value(known_family.label), any_value(family)) as words,
        coalesce(any_value(batch.label), '') as more, any_value(chosen_on) as first_on
    from chosen_panel
    left join chosen_person using (panel_id)
    left join batch using (batch_id)
    left join known_family using (family)
    group by chosen_panel.entry_no
    union all by name
    select 'beer_share' as part, beer_share.entry_no, count(*) as number,
        string_agg(coalesce(compound.label, what), '|' order by what) as words,
        coalesce(any_value(known_family.label), any_value(family)) as more
    from beer_share
    left join compound on compound.compound = beer_share.what
    left join known_family using (family)
    group by beer_share.entry_no
    union all by name
    select 'weighed_call' as part, entry_no, label as words
    from weighed_call
    union all by name
    select 'call_outcome' as part, call_outcome.entry_no, weighed_call.label as words,
        coalesce(compound.label, what) as more, remark as reason
    from call_outcome
    join weighed_call using (weighing_id)
    left join compound on compound.compound = call_outcome.what
)

select
    stated.entry_no,
    stated.part,
    if(stated.person_id is null, '', coalesce(spelling, 'somebody without a name')) as name,
    coalesce(session.label, '') as session_label,
    session.session_on,
    coalesce(number, 1)         as number,
    is_so,
    coalesce(words, '')         as words,
    coalesce(more, '')          as more,
    coalesce(reason, '')        as reason,
    first_on,
    last_on
from stated
join history using (entry_no)
cross join known_moment
left join session on session.session_id = stated.session_id
left join known_person on known_person.spelled_id = stated.person_id
left join person_name on person_name.person_id = known_person.person_id
where history.recorded_at <= known_at
order by stated.entry_no, stated.part, name;
