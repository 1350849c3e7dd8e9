"""Settings from options, the environment and the platform's habits."""

from pathlib import Path

import pytest

from app.__main__ import main
from app.errors import Invalid
from app.services import phones
from app.settings import UnusableFolder, read_settings, usable_folder
from app.storage import Store


def test_an_option_wins_over_the_environment(tmp_path: Path) -> None:
    environ = {"BEVELBOOK_DATA": str(tmp_path / "env"), "BEVELBOOK_PORT": "9000"}
    settings = read_settings(data=tmp_path / "option", environ=environ)
    assert (settings.data, settings.port) == (tmp_path / "option", 9000)
    assert settings.database == tmp_path / "option" / "bevelbook.sqlite3"
    assert settings.backups == tmp_path / "option" / "backups"


def test_the_environment_says_everything(tmp_path: Path) -> None:
    environ = {
        "BEVELBOOK_DATA": str(tmp_path),
        "BEVELBOOK_HOST": "::1",
        "BEVELBOOK_PORT": "0",
        "BEVELBOOK_LOG": "DEBUG",
        "BEVELBOOK_HOSTS": "bench.local, shop.test",
    }
    settings = read_settings(environ=environ)
    assert (settings.data, settings.host, settings.port) == (tmp_path, "::1", 0)
    assert (settings.log_level, settings.hosts) == ("debug", ("bench.local", "shop.test"))


def test_nothing_said_means_loopback_and_the_platforms_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Source: XDG Base Directory Specification, $XDG_DATA_HOME.
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    settings = read_settings(environ={"BEVELBOOK_PORT": ""})
    assert (settings.host, settings.port, settings.hosts) == ("127.0.0.1", 8027, ())
    assert settings.data == tmp_path / "bevelbook"


# Source: RFC 1122, 3.2.1.3: 127.0.0.0/8; RFC 4291, 2.5.3: ::1; RFC 6761, 6.3: localhost.
@pytest.mark.parametrize(
    ("typed", "host", "own_name"),
    [
        ("127.0.0.1", "127.0.0.1", "127.0.0.1"),
        ("127.8.0.1", "127.8.0.1", "127.8.0.1"),
        ("127.255.255.254", "127.255.255.254", "127.255.255.254"),
        ("localhost", "localhost", "localhost"),
        ("LocalHost", "localhost", "localhost"),
        ("::1", "::1", "[::1]"),
        ("[::1]", "::1", "[::1]"),
        ("0:0:0:0:0:0:0:1", "::1", "[::1]"),
    ],
)
def test_it_listens_where_only_this_machine_reaches_it(
    tmp_path: Path, typed: str, host: str, own_name: str
) -> None:
    option = read_settings(data=tmp_path, host=typed, environ={})
    from_environment = read_settings(data=tmp_path, environ={"BEVELBOOK_HOST": typed})
    assert option == from_environment
    assert (option.host, option.own_name) == (host, own_name)


IN_A_NETWORK = ("192.168.1.5", "10.0.0.1", "128.0.0.1", "126.255.255.255", "::2")
NO_ONE_ADDRESS = (
    *("0.0.0.0", "::", "169.254.1.1", "224.0.0.1"),
    *("fe80::1", "::ffff:192.168.1.5", "shop.example", "localhost.shop.example", "*"),
    *("127.0.0.1.shop.example", "127.1", "2130706433", "127.0.0.1:80", "::1%eth0", " ", "\0"),
)


@pytest.mark.parametrize("host", NO_ONE_ADDRESS)
def test_what_is_not_one_address_of_a_machine_is_refused(tmp_path: Path, host: str) -> None:
    with pytest.raises(Invalid, match="only this machine itself is allowed, as 127") as caught:
        read_settings(data=tmp_path, host=host, environ={})
    assert [fault.path for fault in caught.value.faults] == ["host"]
    with pytest.raises(Invalid, match="only this machine itself is allowed, as 127"):
        read_settings(data=tmp_path, environ={"BEVELBOOK_HOST": host})


def test_an_empty_address_is_none_as_an_option_and_nothing_said_in_the_environment(
    tmp_path: Path,
) -> None:
    with pytest.raises(Invalid, match="only this machine itself is allowed"):
        read_settings(data=tmp_path, host="", environ={})
    assert read_settings(data=tmp_path, environ={"BEVELBOOK_HOST": ""}).host == "127.0.0.1"


@pytest.mark.parametrize("command", ["serve", "demo"])
def test_to_serve_the_network_is_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    assert main([command, "--data", str(tmp_path), "--host", "0.0.0.0"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == (
        "bevelbook: BEVELBOOK_HOST or its option is “0.0.0.0”; only this machine itself is allowed, "
        "as 127.0.0.1, ::1 or localhost, or, where phones were turned on under Settings > Workshop, "
        "one address of this machine.\n"
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("host", IN_A_NETWORK)
def test_an_address_that_reaches_further_is_for_phones_alone(tmp_path: Path, host: str) -> None:
    settings = read_settings(data=tmp_path, host=host, environ={})
    assert (settings.own_host, settings.own_name) == ("127.0.0.1", "127.0.0.1")
    assert settings.for_phones == host


@pytest.mark.parametrize("host", IN_A_NETWORK)
def test_an_address_that_reaches_further_is_refused_where_phones_are_not_turned_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], host: str
) -> None:
    assert main(["--data", str(tmp_path), "--no-browser", "--host", host]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == (
        f"bevelbook: Phones are not turned on in these data, so Bevelbook does not listen at {host}, where "
        "others reach it. Start it without --host, turn phones on under Settings > Workshop, and start it "
        "so again.\n"
    )


def test_an_address_that_this_machine_has_not_is_said_plainly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # Source: RFC 5737: 203.0.113.0/24 is nobody's.
    with Store.open(tmp_path / "bevelbook.sqlite3") as store:
        phones.turn_on(store, "203.0.113.9", 8027)
    assert main(["--data", str(tmp_path), "--no-browser", "--host", "203.0.113.9"]) == 2
    assert "Port 8027 on 203.0.113.9 cannot be used" in capsys.readouterr().err


def test_a_certificate_goes_with_its_key(tmp_path: Path) -> None:
    with pytest.raises(Invalid, match="both --tls-cert and --tls-key, or neither"):
        read_settings(data=tmp_path, environ={"BEVELBOOK_TLS_CERT": "shop.pem"})
    both = {"BEVELBOOK_TLS_CERT": "shop.pem", "BEVELBOOK_TLS_KEY": "shop.key"}
    settings = read_settings(data=tmp_path, environ=both)
    assert (settings.tls_cert, settings.tls_key) == (Path("shop.pem"), Path("shop.key"))


def test_a_certificate_that_cannot_be_used_is_said_before_anything_is_served(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "shop.pem").write_text("no certificate")
    files = ["--tls-cert", str(tmp_path / "shop.pem"), "--tls-key", str(tmp_path / "none.key")]
    assert main(["--data", str(tmp_path), "--no-browser", *files]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "cannot be used: " in told.err
    assert "PEM form" in told.err


def test_every_fault_is_said_at_once(tmp_path: Path) -> None:
    environ = {"BEVELBOOK_PORT": "eighty", "BEVELBOOK_LOG": "loud"}
    with pytest.raises(Invalid) as caught:
        read_settings(data=tmp_path, environ=environ)
    messages = {fault.path: fault.message for fault in caught.value.faults}
    assert set(messages) == {"port", "log_level"}
    assert "“eighty”" in messages["port"]
    assert "0 to 65535" in messages["port"]
    assert "debug, info, warning or error" in messages["log_level"]


@pytest.mark.parametrize("port", [-1, 65_536, 10**30, "garbage", "80.5", ""])
def test_a_port_has_bounds(tmp_path: Path, port: int | str) -> None:
    with pytest.raises(Invalid, match="0 to 65535"):
        read_settings(data=tmp_path, port=port, environ={})


def test_a_port_is_read_as_typed(tmp_path: Path) -> None:
    assert read_settings(data=tmp_path, port="8031", environ={}).port == 8031


def test_a_port_that_is_no_number_is_one_sentence_at_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--data", str(tmp_path), "--port", "garbage", "check"]) == 2
    assert capsys.readouterr().err == (
        "bevelbook: BEVELBOOK_PORT or its option is “garbage”; a whole number from 0 to 65535 is "
        "allowed.\n"
    )


def test_the_data_folder_is_made_for_its_owner_alone(tmp_path: Path) -> None:
    folder = usable_folder(tmp_path / "a" / "b")
    assert folder.is_dir()
    assert folder.stat().st_mode & 0o777 == 0o700


def test_a_relative_folder_and_a_home_folder_become_absolute(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    assert usable_folder(Path("shop")) == tmp_path / "shop"
    assert usable_folder(Path("~/shop")) == tmp_path / "shop"


def test_a_file_in_the_way_of_the_folder_is_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(UnusableFolder, match=r"cannot be used: .* --data or BEVELBOOK_DATA"):
        read_settings(data=tmp_path / "file" / "shop", environ={})
    with pytest.raises(UnusableFolder, match="it is a file, and a folder is wanted"):
        read_settings(data=tmp_path / "file", environ={})


def test_a_folder_that_cannot_be_written_is_said_plainly(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Whoever runs the tests as root may write anywhere, so the system's refusal is stood in for.
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.TemporaryFile", refuse)
    with pytest.raises(UnusableFolder, match="permission denied"):
        read_settings(data=tmp_path, environ={})


@pytest.mark.parametrize("command", ["check", "backup"])
def test_to_check_or_copy_a_shop_that_is_not_there_makes_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    assert main(["--data", str(tmp_path / "mistyped"), command]) == 2
    assert f"There is no shop in {tmp_path / 'mistyped'}" in capsys.readouterr().err
    assert not list((tmp_path / "mistyped").glob("*"))
