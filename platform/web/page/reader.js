// Reads codes off the camera's pictures, apart from the page, which goes on meanwhile. Gets {pixels, width, height}, RGBA;
// answers with the code's text, or with an empty one.
'use strict';

importScripts('jsqr.js');

self.onmessage = (event) => {
  const {pixels, width, height} = event.data;
  let found = null;
  try {
    // Ours are dark on light, in both themes.
    found = jsQR(new Uint8ClampedArray(pixels), width, height, {inversionAttempts: 'dontInvert'});
  } catch (fault) {
    console.warn(fault);  // a picture that it cannot make anything of
  }
  self.postMessage(found ? found.data : '');
};
