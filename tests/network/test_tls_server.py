"""The real server with a certificate of the brewery's own."""

import shutil
import subprocess
import sys

import pytest
from lan_served import HOST, served, trusting

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there is 127.0.0.2 ours too")


def test_with_a_certificate_everything_travels_encrypted(tmp_path):
    if shutil.which("openssl") is None:
        pytest.skip("there is no openssl to make a certificate with")
    cert, key = tmp_path / "own.pem", tmp_path / "own-key.pem"
    subprocess.run(
        ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes",
         "-keyout", key, "-out", cert, "-days", "90", "-subj", "/CN=panel.example",
         "-addext", f"subjectAltName=IP:{HOST}"],
        check=True, capture_output=True,
    )  # fmt: skip
    words = ("--cert", str(cert), "--key", str(key))
    with served(tmp_path, *words, tls=trusting(cert)) as lan:
        assert f"https://{lan.named}/reach" in lan.log.read_text()
        assert "secure" in lan.sign_in().lower()
        own = {"Cookie": lan.cookie, "Origin": f"https://{lan.named}"}
        assert lan.upgrade(**own).startswith("HTTP/1.1 101")
        assert lan.upgrade(**own | {"Origin": f"http://{lan.named}"}).startswith("HTTP/1.1 403")
