// Starts what a page of monreq needs: the live connection and the morphing of pushed fragments.

import { Idiomorph } from "idiomorph";
import { io } from "socket.io-client";

window.monreq = { connect: io, morph: Idiomorph.morph };
