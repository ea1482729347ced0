//! A stretch of sound as the bytes of a file: one channel of 16 bits in RIFF WAVE, which plays
//! everywhere (Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0, 1991).

/// The bytes before the samples.
const HEAD: usize = 44;

/// The bytes of a sample.
const SAMPLE: u32 = 2;

/// One that reaches full scale.
const FULL: f64 = 32_767.0;

/// Samples from −1 to 1 at a rate in hertz.
pub fn written(samples: &[f64], rate: u32) -> Vec<u8> {
    let size = samples.len() as u32 * SAMPLE;
    let mut bytes = head(size, rate).to_vec();
    bytes.extend(samples.iter().flat_map(|each| {
        let counts = (each.clamp(-1.0, 1.0) * FULL).round();
        (counts as i16).to_le_bytes()
    }));
    bytes
}

/// How many seconds bytes hold that were written so; nothing of any others.
pub fn seconds(bytes: &[u8]) -> Option<f64> {
    let size = u32::try_from(bytes.len().checked_sub(HEAD)?).ok()?;
    let rate = u32::from_le_bytes(bytes.get(24..28)?.try_into().ok()?);
    let is_whole = rate > 0 && size > 0 && size.is_multiple_of(SAMPLE);
    let is_so = is_whole && bytes.starts_with(&head(size, rate));
    is_so.then(|| f64::from(size / SAMPLE) / f64::from(rate))
}

fn head(size: u32, rate: u32) -> [u8; HEAD] {
    const PCM: u16 = 1;
    const CHANNELS: u16 = 1;
    let mut head = [0; HEAD];
    let mut at = 0;
    let mut put = |part: &[u8]| {
        head[at..at + part.len()].copy_from_slice(part);
        at += part.len();
    };
    put(b"RIFF");
    put(&size.wrapping_add(HEAD as u32 - 8).to_le_bytes());
    put(b"WAVEfmt ");
    put(&16u32.to_le_bytes());
    put(&PCM.to_le_bytes());
    put(&CHANNELS.to_le_bytes());
    put(&rate.to_le_bytes());
    put(&rate.wrapping_mul(SAMPLE).to_le_bytes());
    put(&(SAMPLE as u16).to_le_bytes());
    put(&(SAMPLE as u16 * 8).to_le_bytes());
    put(b"data");
    put(&size.to_le_bytes());
    head
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bytes_are_those_that_the_specification_lays_down() {
        // Check: two samples, 1 and −1, at 8 kHz
        // Source: Multimedia Programming Interface and Data Specifications 1.0, chapter 3
        // Known by: memory
        let due = [
            &b"RIFF\x28\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0"[..],
            b"\x40\x1f\0\0\x80\x3e\0\0\x02\0\x10\0data\x04\0\0\0",
            b"\xff\x7f\x01\x80",
        ];
        assert_eq!(written(&[1.0, -1.0], 8_000), due.concat());
    }

    #[test]
    fn how_long_it_lasts_is_told_of_whole_bytes_alone() {
        let five = written(&vec![0.1; 5 * 44_100], 44_100);
        assert_eq!(seconds(&five), Some(5.0));
        for end in [0, 12, HEAD, five.len() - 1, five.len() - 2] {
            assert_eq!(seconds(&five[..end]), None, "{end}");
        }
        let two_channels = [&five[..22], &[2], &five[23..]].concat();
        assert_eq!(seconds(&two_channels), None);
        let no_rate = [&five[..24], &[0; 4], &five[28..]].concat();
        assert_eq!(seconds(&no_rate), None);
    }
}
