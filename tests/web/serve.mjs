// A web server on loopback that hands out a folder's files, and can be told to be gone, to break off, to be slow, or to
// hand out another folder: what happens to a page whose server is not there, or brings a new version.
import {createServer} from 'node:http';
import {readFile, stat} from 'node:fs/promises';
import {extname, join, normalize} from 'node:path';

const TYPES = {'.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json', '.svg': 'image/svg+xml', '.png': 'image/png', '.otf': 'font/otf',
  '.ttf': 'font/ttf'};

export async function serve(folder) {
  const state = {folder, broken: null, slow: null, sockets: new Set()};
  const server = createServer(async (request, response) => {
    const name = normalize(decodeURIComponent(new URL(request.url, 'http://local').pathname)).replace(/^\/+/, '') || 'index.html';
    try {
      if (state.broken && state.broken.test(name)) throw new Error('broken');
      if (state.slow && state.slow.pattern.test(name)) await state.slow.released;
      const path = join(state.folder, name);
      if (!(await stat(path)).isFile()) throw new Error('no file');
      response.writeHead(200, {'Content-Type': TYPES[extname(name)] || 'application/octet-stream', 'Cache-Control': 'no-cache'});
      response.end(await readFile(path));
    } catch {
      response.writeHead(404);
      response.end();
    }
  });
  server.on('connection', (socket) => {
    state.sockets.add(socket);
    socket.on('close', () => state.sockets.delete(socket));
  });
  const listen = (port) => new Promise((resolve) => server.listen(port, '127.0.0.1', resolve));
  await listen(0);
  const port = server.address().port;
  return {
    address: `http://127.0.0.1:${port}/`,
    handOut(other) { state.folder = other; },
    breakOff(pattern) { state.broken = pattern; },
    // What is asked for meanwhile comes when the returned function is called.
    holdBack(pattern) {
      let release;
      state.slow = {pattern, released: new Promise((released) => { release = released; })};
      return () => {
        state.slow = null;
        release();
      };
    },
    async stop() {
      const closed = new Promise((resolve) => server.close(resolve));
      for (const socket of state.sockets) socket.destroy();
      await closed;
    },
    async again() { await listen(port); },
  };
}
