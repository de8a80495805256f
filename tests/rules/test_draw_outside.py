"""The draw against published values, a shell's own tool, and other programs."""

import hashlib
import shutil
import subprocess

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.rules import draw

# RFC 3797, section 6 (D. Eastlake, June 2004): counter, MD5, position chosen from the 25.
KEY = "9319./2.5.8.10.12./9.18.26.34.41.45./"
RFC_3797 = [
    ("990DD0A5692A029A98B5E01AA28F3459", 17),
    ("3691E55CB63FCC37914430B2F70B5EC6", 7),
    ("FE814EDF564C190AC1D25753979990FA", 2),
    ("1863CCACEB568C31D7DDBDF1D4E91387", 16),
    ("F4AB33DF4889F0AF29C513905BE1D758", 25),
    ("13EAEB529F61ACFB9A29D0BA3A60DE4A", 23),
    ("992DB77C382CA2BDB9727001F3CDCCD9", 8),
    ("63AB4258ECA922976811C7F55C383CE7", 24),
    ("DFBC5AC97CED01B3A6E348E3CC63F40D", 19),
    ("31CB111C4A4EBE9287CEAE16FE51B909", 13),
    ("07FA46C122F164C215BBC72793B189A3", 22),
    ("AC52F8D75CCBE2E61AFEB3387637D501", 5),
    ("53306F73E14FC0B2FBF434218D25948E", 18),
    ("B5D1403501A81F9A47318BE7893B347C", 9),
    ("85B10B356AA06663EF1B1B407765100A", 1),
    ("3269E6CE559ABD57E2BA6AAB495EB9BD", 4),
]
NAMES = [
    "John",
    "Mary",
    "Bashful",
    "Dopey",
    "Sleepy",
    "Grouchy",
    "Doc",
    "Sneazy",
    "Handsome",
    "Cassandra",
    "Pollyanna",
    "Pendragon",
    "Pandora",
    "Faith",
    "Hope",
    "Charity",
    "Lee",
    "Longsuffering",
    "Chastity",
    "Smith",
    "Pride",
    "Sloth",
    "Envy",
    "Anger",
    "Kasczynski",
]


def rfc_digests(algorithm):
    """Digest i of the RFC is that of the counter, the key and the counter again."""
    for i in range(25):
        counter = i.to_bytes(2, "big")
        yield hashlib.new(algorithm, counter + KEY.encode() + counter).hexdigest()


def picked(digests):
    """The positions our own selection routine picks with the RFC's numbers."""
    numbers = iter([int(digest, 16) for digest in digests])
    pool = list(range(1, 26))
    return [draw.pick(pool, lambda k: next(numbers) % k) for _ in range(25)]


def test_the_selection_of_rfc_3797_comes_out():
    """C59. The whole pool; the RFC's own example stops after ten."""
    positions = picked(rfc_digests("md5"))

    assert [digest.upper() for digest in rfc_digests("md5")][:16] == [d for d, _ in RFC_3797]
    assert positions[:16] == [position for _, position in RFC_3797]
    assert positions[16:] == [12, 15, 20, 14, 11, 3, 6, 21, 10]
    assert [NAMES[position - 1] for position in positions[:10]] == (
        [
            "Lee",
            "Doc",
            "Mary",
            "Charity",
            "Kasczynski",
            "Envy",
            "Sneazy",
            "Anger",
            "Chastity",
            "Pandora",
        ]
    )


def test_the_same_selection_works_with_sha_256():
    """Computed with another program, and published nowhere else."""
    assert next(rfc_digests("sha256")) == (
        "2c387b04b3ec92a0e1361c2b44a552e020b918ea986a808e8392c70bc337d90f"
    )
    assert picked(rfc_digests("sha256"))[:10] == [20, 23, 1, 14, 17, 9, 11, 15, 7, 13]


def test_numbers_are_written_as_rfc_3797_writes_them():
    """RFC 3797, section 4: smallest first, each closed by a full stop."""
    sheet = draw.Sheet("m", (), (), callers=(2, 5, 12, 8, 10))

    assert sheet.text.endswith("callers=2.5.8.10.12.\n")


@pytest.mark.parametrize(
    ("text", "published"),
    [
        ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        ("a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ],
    ids=["nothing", "one block", "two blocks", "a million letters"],
)
def test_the_fingerprint_is_sha_256(text, published):
    """FIPS 180-4, the example values published with the standard."""
    assert draw.fingerprint(text) == published


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="sha256sum is not installed")
def test_a_shell_makes_the_same_numbers():
    seed = "8c8083913492196c79ac912c834832fa81b747a5872f13b1cbea8080840fbea0"
    shell = 'printf %s "$0:A/1:1" | sha256sum | cut -c1-8'

    said = subprocess.run(["sh", "-c", shell, seed], capture_output=True, text=True, check=True)

    assert int(said.stdout, 16) == draw.Stream(seed, "A/1").word() == 3686012065


@given(data=st.data())
def test_a_section_is_refused_exactly_where_no_allocation_exists(data):
    """A greatest matching of anglers and pegs, by networkx, covers everybody or it is refused."""
    pegs = list(range(1, data.draw(st.integers(1, 6)) + 1))
    accessible = data.draw(st.lists(st.sampled_from(pegs), unique=True))
    needs = data.draw(st.lists(st.booleans(), min_size=1, max_size=7))
    entries = tuple(draw.Entry(no, "", "A", need) for no, need in enumerate(needs, 1))
    no, peg = data.draw(st.integers(1, len(needs))), data.draw(st.sampled_from(pegs))
    fixed = data.draw(st.booleans())
    sheet = draw.Sheet(
        "m",
        (draw.Section("A", tuple(pegs), tuple(accessible)),),
        entries,
        fixed=((no, peg),) if fixed else (),
    )
    may = nx.Graph()
    may.add_nodes_from(f"entry {entry.no}" for entry in entries)
    for entry in entries:
        for there in accessible if entry.needs else pegs:
            if not fixed or (entry.no == no) == (there == peg):
                may.add_edge(f"entry {entry.no}", there)

    matched = nx.bipartite.maximum_matching(may, [f"entry {entry.no}" for entry in entries])

    assert (draw.faults(sheet) == []) == (len(matched) == 2 * len(entries))
