// Files in and out: saving, sharing and choosing them. It belongs to
// window.larderDevice (static/device.js).
"use strict";

// parts collects the content of a large file piece by piece, outside the program.
function parts(type) {
  let pieces = [];
  return {
    add(bytes) {
      pieces.push(new Blob([bytes]));
    },
    blob() {
      pieces = [new Blob(pieces, { type })];
      return pieces[0];
    },
  };
}

// save offers a file to keep: a text, or what parts has collected.
function save(name, type, content) {
  if (sheet(name, type)) {
    share(name, type, content).then((became) => became === "again" && download(name, type, content), () => download(name, type, content));
    return;
  }
  download(name, type, content);
}

// sheet reports whether files are saved through the share sheet. Opened from
// the Home Screen of an iPhone or iPad, a page has no list of downloads: a file
// that it saves is shown in place of the page. From memory.
const sheet = (name, type) => navigator.standalone === true && canShare(name, type);

function download(name, type, content) {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

function canShare(name, type) {
  try {
    return navigator.canShare?.({ files: [new File(["x"], name, { type })] }) ?? false;
  } catch {
    return false;
  }
}

// share says what happened: "shared"; "canceled" by the person; or "again",
// when the browser wants another touch because the file took long to make.
async function share(name, type, content) {
  try {
    await navigator.share({ files: [new File([content], name, { type })], title: name });
    return "shared";
  } catch (err) {
    if (err.name === "AbortError") {
      return "canceled";
    }
    if (err.name === "NotAllowedError") {
      return "again";
    }
    throw err;
  }
}

// ask asks for a file of at most this many bytes, or for a photo from the camera.
// It returns null when none is chosen.
function ask(accept, most, camera = false) {
  return new Promise((resolve, reject) => {
    const input = document.createElement("input");
    input.type = "file";
    input.accept = accept;
    if (camera) {
      input.capture = "environment";
    }
    input.dataset.choose = "";
    input.className = "unseen-live";
    input.addEventListener("cancel", () => {
      input.remove();
      resolve(null);
    });
    input.addEventListener("change", () => {
      const file = input.files[0];
      input.remove();
      if (file && file.size > most) {
        reject(new Error(`${file.name} has ${file.size} bytes, at most ${most} are read`));
      } else {
        resolve(file ?? null);
      }
    });
    document.body.append(input);
    input.click();
  });
}

// choose asks for a file and returns its name and text, or nothing.
async function choose(accept, most) {
  const file = await ask(accept, most);
  return file && [file.name, await file.text()];
}

// large asks for a file and returns its name, its size and how to read a part
// of it, or nothing.
async function large(accept, most) {
  const file = await ask(accept, most);
  return file && {
    name: file.name,
    size: file.size,
    read: async (from, to) => new Uint8Array(await file.slice(from, to).arrayBuffer()),
  };
}

Object.assign(window.larderDevice, { parts, save, canShare, sheet, share, ask, choose, large });
