import duckdb

from seatworthy.store.file import Store


def views(path):
    with Store.open(path) as store:
        rows = store.cursor().execute(
            "select view_name, sql from duckdb_views() where not internal"
        )
        return dict(rows.fetchall())


def test_a_view_that_somebody_changed_is_made_anew_when_the_store_is_opened(tmp_path):
    path = tmp_path / "panel.duckdb"
    with Store.open(path):
        pass
    before = views(path)["known_signer"]
    con = duckdb.connect(str(path))
    con.execute("create or replace view known_signer as select person_id from person")
    con.close()
    assert views(path)["known_signer"] == before
