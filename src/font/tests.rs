use super::*;

/// Made with other tools; see fonts-free.
const MANIFEST: &str = include_str!("../../fonts-free/faces.yaml");

fn manifest() -> Vec<serde_yaml::Value> {
    let manifest: serde_yaml::Value = serde_yaml::from_str(MANIFEST).expect("manifest");
    manifest["faces"].as_sequence().expect("faces").clone()
}

fn label_bytes() -> Vec<u8> {
    bundled::faces()[0].bytes().to_vec()
}

/// Where a table's record stands in a font's table directory (OpenType: 12 bytes, then 16 a table).
fn record(bytes: &[u8], tag: &[u8; 4]) -> usize {
    (0..).map(|at| 12 + 16 * at).find(|at| &bytes[*at..at + 4] == tag).expect("table")
}

/// The label face with another fsType (OS/2, offset 8).
fn with_rights(rights: u16) -> Vec<u8> {
    let mut bytes = label_bytes();
    let at = record(&bytes, b"OS/2");
    let table = u32::from_be_bytes(bytes[at + 8..at + 12].try_into().expect("4 bytes"));
    let at = usize::try_from(table).expect("offset") + 8;
    bytes[at..at + 2].copy_from_slice(&rights.to_be_bytes());
    bytes
}

#[test]
fn bundled_files_are_those_of_the_manifest() {
    use sha2::Digest as _;
    let (rows, faces) = (manifest(), Faces::bundled());
    assert_eq!(rows.len(), bundled::faces().len());
    for (row, bundled) in rows.iter().zip(bundled::faces()) {
        let hash = sha2::Sha256::digest(bundled.bytes());
        let hash: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(Some(hash.as_str()), row["sha256"].as_str(), "{}", bundled.role);
        let free = row["fs_type"].as_u64() == Some(0);
        let face = faces.face(faces.find(&bundled.role).expect("role")).expect("face");
        assert_eq!(face.rights() == Rights::Free, free, "{}", bundled.role);
        assert!(face.family().starts_with(&bundled.family), "{} {}", face.family(), bundled.role);
    }
}

#[test]
fn pairs_that_look_alike_are_those_of_low_distinctness() {
    // The manifest gives the engraved face 0/O 0.04 and the label face no pair below 0.23.
    let alike = |role: &str| {
        let faces = Faces::bundled();
        let face = faces.face(faces.find(role).expect("role")).expect("face");
        face.alike().to_vec()
    };
    assert!(alike("engraved").contains(&('0', 'O')));
    assert_eq!(alike("label"), []);
}

#[test]
fn finds_a_face_by_role_family_cut_or_the_jobs_own_name() {
    let mut faces = Faces::bundled();
    assert_eq!(faces.find("label"), Some(FaceId(0)));
    assert_eq!(faces.find(" Label-Reversed "), Some(FaceId(1)));
    assert_eq!(faces.find("KRONA one"), Some(FaceId(4)));
    assert_eq!(faces.find("Atkinson Hyperlegible Next"), Some(FaceId(0)));
    assert_eq!(faces.find("atkinson hyperlegible next bold"), Some(FaceId(1)));
    assert_eq!(faces.find("harbour"), None);
    let own = faces.add("harbour", label_bytes(), 0).expect("a font");
    assert_eq!(faces.find("Harbour"), Some(own));
    assert!(faces.names().contains(&"harbour".to_owned()));
    assert!(faces.names().contains(&"stencil".to_owned()));
    let again = faces.add("harbour", label_bytes(), 0);
    assert_eq!(again, Err(NotAFace::NameTaken));
}

#[test]
fn refuses_what_is_no_usable_font() {
    let mut faces = Faces::bundled();
    let mut add = |name, bytes, index| faces.add(name, bytes, index);
    assert_eq!(add("a", b"not a font".to_vec(), 0), Err(NotAFace::NotAFont));
    assert_eq!(add("b", Vec::new(), 0), Err(NotAFace::NotAFont));
    let cut = label_bytes()[..2000].to_vec();
    assert_eq!(add("c", cut, 0), Err(NotAFace::CutShort));
    let none = NotAFace::NoSuchFace { index: 2, faces: 1 };
    assert_eq!(none.to_string(), "holds one face, number 0; face 2 was asked for");
    assert_eq!(add("d", label_bytes(), 2), Err(none));
    // A table of one axis makes a font variable (OpenType fvar: version 1.0, axes at 16, 1 axis of 20 bytes).
    let mut variable = label_bytes();
    let at = record(&variable, b"gasp");
    let end = u32::try_from(variable.len()).expect("length");
    variable[at..at + 4].copy_from_slice(b"fvar");
    variable[at + 8..at + 12].copy_from_slice(&end.to_be_bytes());
    variable[at + 12..at + 16].copy_from_slice(&36_u32.to_be_bytes());
    variable.extend([0, 1, 0, 0, 0, 16, 0, 2, 0, 1, 0, 20, 0, 0, 0, 8]);
    variable.extend(b"wght");
    variable.extend([0, 100, 0, 0, 1, 144, 0, 0, 3, 132, 0, 0, 0, 0, 1, 0]);
    assert_eq!(add("e", variable, 0), Err(NotAFace::Variable));
}

#[test]
fn respects_the_licence_bits() {
    // OpenType OS/2 fsType: 2 restricted, 4 preview and print, 8 editable, 0x200 bitmaps only.
    let mut faces = Faces::bundled();
    for (rights, note) in [(0, false), (2, true), (4, false), (8, false)] {
        let name = format!("rights {rights}");
        let bytes = with_rights(rights);
        let id = faces.add(&name, bytes, 0).expect("a font");
        assert_eq!(faces.licence_note(id).is_some(), note, "{rights}");
    }
    let refused = faces.add("bitmaps", with_rights(0x200), 0);
    assert_eq!(refused, Err(NotAFace::BitmapsOnly));
}

#[test]
fn a_face_can_be_asked_from_several_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    shared(&Faces::bundled());
}
