/**
 * The time that the platform alone takes to keep a photograph: camera frame, canvas, JPEG, IndexedDB with strict
 * durability.
 */

/** In the page: stores `count` photographs, one after the other. Returns the ms that each took. */
export async function keepPhotos(count: number): Promise<number[]> {
  const video = document.createElement('video');
  video.muted = true;
  video.srcObject = await navigator.mediaDevices.getUserMedia({ video: { width: { ideal: 2048 } } });
  await video.play();
  const opening = indexedDB.open(`bare-${crypto.randomUUID()}`, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('bytes');
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  const took: number[] = [];
  for (let turn = 0; turn < count; turn += 1) {
    const from = performance.now();
    const canvas = document.createElement('canvas');
    const scale = 2048 / Math.max(video.videoWidth, video.videoHeight);
    canvas.width = Math.round(video.videoWidth * Math.min(1, scale));
    canvas.height = Math.round(video.videoHeight * Math.min(1, scale));
    canvas.getContext('2d')!.drawImage(video, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob>((resolve) => canvas.toBlob((made) => resolve(made!), 'image/jpeg', 0.8));
    const bytes = await blob.arrayBuffer();
    const change = database.transaction('bytes', 'readwrite', { durability: 'strict' });
    change.objectStore('bytes').put(bytes, turn);
    await new Promise((resolve, reject) => {
      change.oncomplete = resolve;
      change.onabort = () => reject(change.error);
    });
    took.push(performance.now() - from);
  }
  database.close();
  indexedDB.deleteDatabase(database.name);
  for (const track of (video.srcObject as MediaStream).getTracks()) track.stop();
  return took;
}
