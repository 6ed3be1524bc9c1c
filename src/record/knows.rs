//! What a build could find: the codes of its facts and the keys of its measures. A sealed record holds it, so that what a later build
//! finds beyond that is told as new and never taken for a difference.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use strum::VariantNames;

use crate::fact::Fact;
use crate::gate::Gap;
use crate::ingest::Noticed;
use crate::limitation::Limitation;
use crate::measure::Measure;
use crate::verdict::{OpenItem, Reason, Remark};
use crate::visit::Told;

/// By the member of the record that lists them: the codes or keys that may stand there.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Knows(pub BTreeMap<String, BTreeSet<String>>);

impl Knows {
    /// What this build can find.
    #[must_use]
    pub fn this() -> &'static Self {
        static THIS: LazyLock<Knows> = LazyLock::new(Knows::gathered);
        &THIS
    }

    fn gathered() -> Self {
        let codes = |all: &[&str]| all.iter().map(|code| (*code).to_owned()).collect();
        let keys: BTreeSet<String> = Measure::ALL.map(|it| it.key().to_owned()).into();
        let mut reasons: BTreeSet<String> = codes(Reason::VARIANTS);
        reasons.extend::<BTreeSet<String>>(codes(OpenItem::VARIANTS));
        let members = [
            ("basis", Measure::ALL.map(|it| it.code()).into()),
            ("gaps", codes(Gap::VARIANTS)),
            ("limitations", codes(Limitation::VARIANTS)),
            ("measures", keys.clone()),
            ("notices", codes(Noticed::VARIANTS)),
            ("reasons", reasons),
            ("remarks", codes(Remark::VARIANTS)),
            ("told", codes(Told::VARIANTS)),
            ("unmeasured", keys),
        ];
        Self(members.map(|(name, all)| (name.to_owned(), all)).into())
    }

    /// Whether what stands in this member under this key, or with this code, could be found; true for members that list no such thing.
    #[must_use]
    pub fn could_find(&self, member: &str, code: &str) -> bool {
        self.0.get(member).is_none_or(|all| all.contains(code))
    }

    /// Whether this build can find nothing beyond it.
    #[must_use]
    pub fn is_all(&self) -> bool {
        let covers = |(member, codes): (&String, &BTreeSet<String>)| {
            self.0
                .get(member)
                .is_none_or(|known| codes.is_subset(known))
        };
        Self::this().0.iter().all(covers)
    }

    /// Whether a limitation could be found.
    #[must_use]
    pub fn limitation(&self, limitation: &Limitation) -> bool {
        self.could_find("limitations", &limitation.code())
    }
}
