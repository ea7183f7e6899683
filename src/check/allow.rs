//! `allow`: findings that a label, the wiring or the job accepts.

use super::Checked;
use crate::finding::codes::{self, Accepted};
use crate::finding::{Finding, Findings, Severity};
use crate::spec::{Allowed, Spec};
use std::collections::{BTreeMap, BTreeSet};

/// Whose `allow` it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Owner {
    Label,
    /// Of findings about the wiring, and about the labels that are its markers.
    Wires,
    Job,
}

/// Drops warnings and notes that are accepted, and makes accepted errors notes.
pub(super) fn accept(checked: Checked<'_>, findings: &mut Findings) {
    let given = Given::of(checked);
    let mut errors = Findings::default();
    findings.retain(|finding| {
        let accepted = given.accepts(finding);
        if accepted && finding.severity == Severity::Error {
            let mut note = finding.clone();
            note.severity = Severity::Note;
            errors.push(note.help("accepted by `allow`"));
        }
        !accepted
    });
    findings.extend(errors);
}

/// Every code that is accepted somewhere.
struct Given<'j> {
    /// By the names findings know labels by: their own, those of their pieces and of panels.
    by_label: BTreeMap<&'j str, BTreeSet<&'j str>>,
    by_wires: BTreeSet<&'j str>,
    by_job: BTreeSet<&'j str>,
}

impl<'j> Given<'j> {
    fn of(Checked { spec, designs, .. }: Checked<'j>) -> Given<'j> {
        let by_wires = spec.wiring.iter().flat_map(|wiring| codes_in(&wiring.allow)).collect();
        let labels = spec.labels.iter().map(|label| (label.name.as_str(), label));
        let of_labels = designs
            .iter()
            .filter_map(|design| Some((design.name.as_str(), spec.labels.get(design.label)?)));
        let mut by_label: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for (name, label) in labels.chain(of_labels) {
            let of_wires = label.marker_of().and(spec.wiring.as_ref()).map(|wiring| &wiring.allow);
            let lists = [Some(&label.allow), of_wires].into_iter().flatten();
            by_label.entry(name).or_default().extend(lists.flat_map(|list| codes_in(list)));
        }
        for panel in &spec.panels {
            by_label.entry(&panel.name).or_default().extend(codes_in(&panel.allow));
        }
        Given { by_label, by_wires, by_job: codes_in(&spec.allow).collect() }
    }

    fn accepts(&self, finding: &Finding) -> bool {
        match codes::find(finding.code).map(|row| row.accepted) {
            Some(Accepted::Label) => {
                let label = finding.label.as_deref().and_then(|label| self.by_label.get(label));
                label.is_some_and(|codes| codes.contains(finding.code))
            }
            Some(Accepted::Wires) => self.by_wires.contains(finding.code),
            Some(Accepted::Job) => self.by_job.contains(finding.code),
            Some(Accepted::No(_)) | None => false,
        }
    }
}

fn codes_in(list: &[Allowed]) -> impl Iterator<Item = &str> {
    list.iter().map(|allowed| allowed.code.as_str())
}

/// Tells of an `allow` that can have no effect, once where it is written.
pub(super) fn without_effect(spec: &Spec, findings: &mut Findings) {
    let labels = spec.labels.iter().map(|label| (Owner::Label, &label.allow));
    let panels = spec.panels.iter().map(|panel| (Owner::Label, &panel.allow));
    let wires = spec.wiring.iter().map(|wiring| (Owner::Wires, &wiring.allow));
    let all = labels.chain(panels).chain(wires).chain([(Owner::Job, &spec.allow)]);
    let mut told = BTreeSet::new();
    for (owner, allowed) in all.flat_map(|(owner, list)| list.iter().map(move |one| (owner, one))) {
        if let Some(finding) = useless(owner, &allowed.code)
            && told.insert((allowed.place, allowed.code.as_str()))
        {
            findings.push(finding.at(allowed.place));
        }
    }
}

/// Why a code has no effect in an `allow`, if it has none.
fn useless(owner: Owner, code: &str) -> Option<Finding> {
    let Some(row) = codes::find(code) else {
        let help = match codes::nearest(code) {
            Some(near) => format!("did you mean {near}?"),
            None => "`decalwright list findings` lists all codes".to_owned(),
        };
        let message = format!("allow: there is no finding `{code}`");
        return Some(Finding::warning("unknown-code", message).help(help));
    };
    let (what, help) = match (row.accepted, owner) {
        (Accepted::Label, Owner::Label | Owner::Wires)
        | (Accepted::Wires, Owner::Wires)
        | (Accepted::Job, Owner::Job) => return None,
        (Accepted::No(why), _) => ("cannot be accepted", why.to_owned()),
        (Accepted::Label, Owner::Job) => {
            ("is about a label", "write it under `allow` of the label or its style".to_owned())
        }
        (Accepted::Wires, Owner::Label | Owner::Job) => {
            ("is about the wiring", format!("write `wires: {{allow: [{code}]}}`"))
        }
        (Accepted::Job, Owner::Label | Owner::Wires) => (
            "is about the job as a whole",
            format!("write `allow: [{code}]` at the top of the job"),
        ),
    };
    Some(Finding::warning("cannot-allow", format!("allow: `{code}` {what}")).help(help))
}

#[cfg(test)]
mod tests;
