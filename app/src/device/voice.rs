//! Recording voice notes, for when the hands cannot type.

use js_sys::{ArrayBuffer, Function, Promise, Uint8Array};
use leptos::prelude::window;
use shared::log::body::Blob;
use shared::sync::messages::MAX_BLOB;
use wasm_bindgen::JsValue;
use web_sys::{BlobEvent, MediaRecorder, MediaRecorderOptions, RecordingState};

use super::digest::sha256;
use super::media::{NoStream, Stream};
use app_core::browser::js::{error_words, property, settled};
use app_core::store::NewBlob;

/// The constraints for the microphone, as JSON.
const WANTED: &str = r#"{"audio":true,"video":false}"#;
/// In order of preference: the first that the browser can record. The server keeps all of them.
const FORMATS: [&str; 3] = ["audio/webm;codecs=opus", "audio/mp4", "audio/ogg;codecs=opus"];
/// The bit rate, in bits a second: enough for speech beside a finishing machine, and half an hour fits into
/// [`MAX_BLOB`].
const BITS: u32 = 32_000;

/// Why there is no voice note.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum VoiceError {
    /// The person or the device's settings do not let this page use the microphone.
    #[error("{}", words::device::microphone_denied())]
    Denied,
    /// No microphone, or a browser that cannot record.
    #[error("{}", words::device::recorder_missing())]
    Missing,
    /// Nothing came in.
    #[error("{}", words::device::recording_empty())]
    Empty,
    /// Larger than a note may be.
    #[error("{}", words::device::recording_too_long())]
    TooLong,
    /// Anything else, in the browser's words.
    #[error("{}", words::device::recording_failed(.0))]
    Other(String),
}

/// A recording under way. Dropping it throws it away and lets go of the microphone.
#[must_use = "dropping a recording throws it away"]
pub struct Recording {
    recorder: MediaRecorder,
    /// Resolved with the sound when the recorder stops, whether we stopped it or a telephone call did.
    sound: Promise,
    _stream: Stream,
}

impl Recording {
    /// Asks for the microphone and begins.
    ///
    /// # Errors
    /// [`VoiceError::Denied`] or [`VoiceError::Missing`], else [`VoiceError::Other`].
    pub async fn start() -> Result<Self, VoiceError> {
        let format = format().ok_or(VoiceError::Missing)?;
        let stream = Stream::open(WANTED).await?;
        let options = MediaRecorderOptions::new();
        options.set_mime_type(format);
        options.set_audio_bits_per_second(BITS);
        let recorder =
            MediaRecorder::new_with_media_stream_and_media_recorder_options(stream.stream(), &options)
                .map_err(other)?;
        let sound = Promise::new(&mut |resolve: Function, reject: Function| {
            recorder.set_ondataavailable(Some(&resolve));
            recorder.set_onerror(Some(&reject));
        });
        recorder.start().map_err(other)?;
        Ok(Self {
            recorder,
            sound,
            _stream: stream,
        })
    }

    /// Ends the recording and hands out what was said.
    ///
    /// # Errors
    /// [`VoiceError::Empty`], [`VoiceError::TooLong`], or what the browser says.
    pub async fn finish(self) -> Result<NewBlob, VoiceError> {
        if self.recorder.state() != RecordingState::Inactive {
            self.recorder.stop().map_err(other)?;
        }
        let event: BlobEvent = settled(self.sound.clone()).await.map_err(other)?;
        let blob = event.data().ok_or(VoiceError::Empty)?;
        let buffer: ArrayBuffer = settled(blob.array_buffer()).await.map_err(other)?;
        let bytes = Uint8Array::new(&buffer);
        match bytes.length() as usize {
            0 => return Err(VoiceError::Empty),
            length if length > MAX_BLOB => return Err(VoiceError::TooLong),
            _ => {}
        }
        let about = Blob {
            sha256: sha256(&bytes).await.map_err(other)?,
            media_type: plain(&blob.type_()),
            bytes: u64::from(bytes.length()),
            width: 0,
            height: 0,
        };
        Ok(NewBlob {
            about,
            bytes: bytes.to_vec(),
        })
    }
}

impl From<NoStream> for VoiceError {
    fn from(none: NoStream) -> Self {
        match none {
            NoStream::Denied => Self::Denied,
            NoStream::Missing => Self::Missing,
            NoStream::Busy => Self::Other(words::device::microphone_busy().to_owned()),
            NoStream::Other(words) => Self::Other(words),
        }
    }
}

/// The first of [`FORMATS`] that this browser can record, if any.
fn format() -> Option<&'static str> {
    property(&window(), "MediaRecorder")?;
    FORMATS
        .into_iter()
        .find(|format| MediaRecorder::is_type_supported(format))
}

/// A media type without its parameters.
fn plain(media_type: &str) -> String {
    media_type.split(';').next().unwrap_or_default().trim().to_owned()
}

#[expect(
    clippy::needless_pass_by_value,
    reason = "stands where `map_err` takes a function"
)]
fn other(thrown: JsValue) -> VoiceError {
    VoiceError::Other(error_words(&thrown))
}
