/** Functions for the page: which cameras the app has opened, and whether they still run. */

/** Records every camera that the app opens. */
export function watchLens(): void {
  const open = MediaDevices.prototype.getUserMedia;
  const handedOut: MediaStream[] = [];
  Object.assign(window, { handedOut });
  MediaDevices.prototype.getUserMedia = async function (wanted) {
    const stream = await open.call(this, wanted);
    handedOut.push(stream);
    return stream;
  };
}

/** Whether the last camera is in this state and all earlier ones are stopped. */
export function lensIs(state: MediaStreamTrackState): boolean {
  const { handedOut } = window as unknown as { handedOut: MediaStream[] };
  const states = handedOut.flatMap((stream) => stream.getTracks()).map((track) => track.readyState);
  return states.at(-1) === state && states.slice(0, -1).every((earlier) => earlier === 'ended');
}
