// The camera and what it sees: a picture laid over the canvas, and the texts of the codes in it.
'use strict';

// `video` is the element that shows the picture; onText(text) gets each code as it is seen, once while it is the same;
// onFailed(words) that there is no picture, or none any more.
function codeCamera({video, onText, onFailed}) {
  const LARGEST = 960;  // px of a picture's longer side that is looked through: enough for our densest code
  let stream = null;
  let reader = null;
  let wanted = false;
  let last = '';
  let turn = 0;  // which start this is: what an earlier one answers late is dropped
  const canvas = document.createElement('canvas');
  const pen = canvas.getContext('2d', {willReadFrequently: true});

  function wordsOf(fault) {
    switch (fault.name) {
      case 'NotAllowedError':
        return 'The browser does not let this page use the camera. Allow it for this page in the browser\'s settings, then start the camera again';
      case 'NotFoundError':
      case 'OverconstrainedError':
        return 'No camera was found on this device. Take the parcel as a file instead';
      case 'NotReadableError':
        return 'Another program holds the camera. Close that one, then start the camera again';
      default:
        return `The camera gave no picture (${fault.message || fault.name})`;
    }
  }

  function stop() {
    wanted = false;
    ++turn;
    if (stream) for (const track of stream.getTracks()) track.stop();
    stream = null;
    if (reader) reader.terminate();
    reader = null;
    video.srcObject = null;
    video.hidden = true;
  }
  function fail(fault) {
    stop();
    onFailed(wordsOf(fault));
  }

  function look() {
    if (!wanted || !reader) return;
    if (document.hidden || video.readyState < 2 || !video.videoWidth) {
      setTimeout(look, 100);
      return;
    }
    const share = Math.min(1, LARGEST / Math.max(video.videoWidth, video.videoHeight));
    canvas.width = Math.round(video.videoWidth * share);
    canvas.height = Math.round(video.videoHeight * share);
    pen.drawImage(video, 0, 0, canvas.width, canvas.height);
    const {data} = pen.getImageData(0, 0, canvas.width, canvas.height);
    reader.postMessage({pixels: data.buffer, width: canvas.width, height: canvas.height}, [data.buffer]);
  }

  async function begin(mine) {
    const found = await navigator.mediaDevices.getUserMedia(
      {audio: false, video: {facingMode: 'environment', width: {ideal: 1280}, height: {ideal: 960}}});
    if (mine !== turn) {
      for (const track of found.getTracks()) track.stop();
      return;
    }
    stream = found;
    stream.getVideoTracks()[0].addEventListener('ended', () => {
      if (mine === turn) fail({name: 'Ended', message: 'it was switched off'});
    });
    reader = new Worker('reader.js');
    reader.onerror = (event) => {
      if (mine === turn) fail({name: 'Reader', message: event.message || 'what reads the codes did not start'});
    };
    reader.onmessage = (event) => {
      if (mine !== turn) return;
      if (event.data && event.data !== last) onText(last = event.data);
      // Ten pictures a second are enough, and leave the device time.
      setTimeout(look, 60);
    };
    video.srcObject = stream;
    await video.play();
    if (mine === turn) look();
  }

  return {
    start() {
      wanted = true;
      last = '';
      const mine = ++turn;
      begin(mine).catch((fault) => { if (mine === turn) fail(fault); });
    },
    stop,
    get wanted() { return wanted; },
    // Where the picture lies, in px of the page; nothing of it where there is no width.
    place(x, y, width, height) {
      const shown = wanted && width > 0;
      video.hidden = !shown;
      if (!shown) return;
      video.style.left = `${x}px`;
      video.style.top = `${y}px`;
      video.style.width = `${width}px`;
      video.style.height = `${height}px`;
    },
  };
}
