-- 10_release: batches of beer, what a panel says of them, who was chosen to sit, and how calls were weighed.
-- Grain:   batch one row per batch; batch_crew, talk and beer_share one row per statement, of which the
--          last holds; release_session one row per session that asks whether a beer is as it should be;
--          unknown_sample one row per sample that is a batch and not a preparation; talk_answer one row
--          per answer after the talk; beer_question one row per sample that asks whether it is a beer;
--          chosen_panel one row per panel kept, chosen_person one per person of it; weighed_call one row
--          per weighing kept, weighed_word one per taster, weighed_chance one per possibility;
--          call_outcome one row per statement of what the beer really had, of which the last holds.
-- Note:    shares and chances are decimals, so that their text is canonical. weighed_text and
--          chosen_text hold ids and decimals only; free text is kept beside the history as elsewhere.

create table batch (
    batch_id    varchar   primary key,
    label       varchar   not null,
    beer        varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table batch_crew (
    batch_id    varchar   not null references batch (batch_id),
    person_id   varchar   not null references person (person_id),
    is_crew     boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (batch_id, person_id, entry_no)
);

create table release_session (
    session_id  varchar   primary key references session (session_id),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table unknown_sample (
    sample_id   varchar   primary key references sample (sample_id),
    batch_id    varchar   not null references batch (batch_id),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table talk (
    sitting_id  varchar   not null references sitting (sitting_id),
    is_open     boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sitting_id, entry_no)
);

create table talk_answer (
    serving_id   varchar   not null,
    kind         varchar   not null check (kind in ('words', 'something', 'nothing')),
    words        varchar,
    words_key    varchar,
    words_salt   varchar,
    words_digest varchar,
    entry_no     integer   not null,
    recorded_at  timestamp not null,
    primary key (serving_id, entry_no),
    check ((kind = 'words') = (words_digest is not null))
);

create table beer_question (
    sample_id   varchar   primary key references sample (sample_id),
    beer        varchar   not null,
    variant     varchar   not null check (variant in ('own', 'aged', 'other_batch', 'sister')),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table chosen_panel (
    panel_id      varchar   primary key,
    chosen_on     date      not null,
    family        varchar   not null,
    batch_id      varchar   references batch (batch_id),
    callers       integer   not null check (callers > 0),
    chosen_text   varchar   not null,
    chosen_digest varchar   not null check (length(chosen_digest) = 64),
    entry_no      integer   not null,
    recorded_at   timestamp not null
);

create table chosen_person (
    panel_id    varchar   not null references chosen_panel (panel_id),
    person_id   varchar   not null references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (panel_id, person_id)
);

create table beer_share (
    family      varchar       not null,
    what        varchar       not null,
    share       decimal(9, 8) not null check (share between 0 and 1),
    entry_no    integer       not null,
    recorded_at timestamp     not null,
    primary key (family, what, entry_no)
);

create table weighed_call (
    weighing_id    varchar   primary key,
    weighed_on     date      not null,
    family         varchar   not null,
    batch_id       varchar   references batch (batch_id),
    sample_id      varchar   references sample (sample_id),
    label          varchar   not null,
    is_blind       boolean   not null,
    model_version  varchar   not null,
    weighed_text   varchar   not null,
    weighed_digest varchar   not null check (length(weighed_digest) = 64),
    entry_no       integer   not null,
    recorded_at    timestamp not null
);

create table weighed_word (
    weighing_id varchar   not null references weighed_call (weighing_id),
    person_id   varchar   not null references person (person_id),
    kind        varchar   not null check (kind in ('named', 'something', 'nothing')),
    compound    varchar   references compound (compound),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (weighing_id, person_id),
    check ((kind = 'named') = (compound is not null))
);

create table weighed_chance (
    weighing_id varchar       not null references weighed_call (weighing_id),
    what        varchar       not null,
    chance      decimal(9, 8) not null check (chance between 0 and 1),
    entry_no    integer       not null,
    recorded_at timestamp     not null,
    primary key (weighing_id, what)
);

create table call_outcome (
    weighing_id   varchar   not null references weighed_call (weighing_id),
    what          varchar   not null,
    how           varchar   not null check (how in ('laboratory', 'triangle', 'retaste', 'market', 'other')),
    remark        varchar,
    remark_salt   varchar,
    remark_digest varchar,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (weighing_id, entry_no)
);
