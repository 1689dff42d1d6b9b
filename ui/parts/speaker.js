// One voice for the whole window: what is being said stops when something new is said.
// Put in front of every part that speaks; the first copy that runs makes the speaker, the others find it.
const speaker = (globalThis.tilewitnessSpeaker ??= {
  rate: 1,
  lastId: null,
  utterances: [], // kept: Chromium forgets to finish an utterance that nothing refers to
  onTrouble: () => {},

  // Long texts stall in some browsers, so each sentence is its own utterance.
  say(sentences) {
    this.stop();
    const engine = globalThis.speechSynthesis;
    if (!engine) return this.onTrouble();
    this.utterances = sentences.map((sentence) => {
      const utterance = new SpeechSynthesisUtterance(sentence);
      utterance.lang = "en-US";
      utterance.rate = this.rate;
      utterance.onerror = (event) => {
        if (!["canceled", "interrupted"].includes(event.error)) this.onTrouble(event.error);
      };
      return utterance;
    });
    this.utterances.forEach((utterance) => engine.speak(utterance));
  },

  // The page is drawn again for many reasons; only news is spoken.
  sayOnce(id, sentences) {
    if (id === this.lastId) return;
    this.lastId = id;
    this.say(sentences);
  },

  stop() {
    globalThis.speechSynthesis?.cancel();
  },
});
