-- ballot_glasses: one person's glasses and sets at one sitting, with what they said of them.
-- Purpose: what a ballot shows; what was poured, and which glass of a set differs, is not asked for.
-- Params:  $sitting_id, $person_id
-- Grain:   one row per serving, in the order of serving.
-- Used by: steps.ballot_seats

with own as (
    select serving.serving_id, serving.position, serving.method, serving.blind_code, serving.sample_id
    from serving
    join sample using (sample_id)
    join known_person on known_person.spelled_id = serving.person_id
    where sample.sitting_id = $sitting_id and known_person.person_id = $person_id
),

said as (
    select serving_id, count(*) as answers, max(entry_no) as entry_no
    from answer
    where serving_id in (select serving_id from own)
    group by serving_id
)

select
    own.serving_id,
    own.position,
    own.method,
    coalesce((
        select list(set_glass.blind_code order by place)
        from set_glass
        where set_glass.serving_id = own.serving_id
    ), [own.blind_code])                              as codes,
    exists (
        select 1 from set_glass where set_glass.serving_id = own.serving_id
    )                                                 as is_set,
    compound.label                                    as asked,
    answer.kind,
    answer.words,
    answer.rating,
    set_pick.blind_code                               as picked,
    phone_answer.sureness,
    phone_answer.serving_id is not null               as is_by_phone,
    coalesce(said.answers, 0)::integer                as answers,
    coalesce((
        select arg_max(glass_event.kind, glass_event.entry_no)
        from glass_event
        where glass_event.serving_id = own.serving_id
    ), '')                                            as event
from own
left join said using (serving_id)
left join answer on answer.serving_id = own.serving_id and answer.entry_no = said.entry_no
left join set_pick on set_pick.serving_id = own.serving_id and set_pick.entry_no = said.entry_no
left join phone_answer
    on phone_answer.serving_id = own.serving_id and phone_answer.entry_no = said.entry_no
left join sample_question on sample_question.sample_id = own.sample_id
left join compound using (compound)
order by own.position, own.serving_id;
