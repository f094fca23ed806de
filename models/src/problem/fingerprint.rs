//! A short name for all that a problem says, by which a saved plan knows its own.

use super::Problem;

impl Problem {
    /// Sixteen hexadecimal digits that change with anything a problem says: FNV-1a of its JSON form (64 bits, the offset
    /// and the prime of the IETF draft draft-eastlake-fnv; from memory). It guards against mistakes, not against malice.
    ///
    /// ```
    /// # use rangewright_models::problem::Problem;
    /// # let mut problem: Problem = serde_json::from_str(r#"{"name": "", "opening": 0, "shifts": [], "pools": {},
    /// #     "places": [], "dishes": [], "courses": [], "steps": [], "links": []}"#)?;
    /// let before = problem.fingerprint();
    /// problem.opening = 5;
    /// assert_ne!(problem.fingerprint(), before);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn fingerprint(&self) -> String {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        for byte in serde_json::to_vec(self).expect("a problem is plain data with text keys") {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        format!("{hash:016x}")
    }
}
