PRAGMA application_id=1836213617;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE event_subjects (
	show_id TEXT NOT NULL, 
	subject TEXT NOT NULL, 
	revision INTEGER NOT NULL, 
	CONSTRAINT pk_event_subjects PRIMARY KEY (show_id, subject, revision), 
	CONSTRAINT fk_event_subjects_show_id FOREIGN KEY(show_id, revision) REFERENCES events (show_id, revision)
)
 WITHOUT ROWID

;
INSERT INTO "event_subjects" VALUES('show1','mix:*',52);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',19);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',20);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',21);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',22);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',23);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',24);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',25);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',26);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',39);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',40);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',41);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',42);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',43);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',50);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',57);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',58);
INSERT INTO "event_subjects" VALUES('show1','mix:ears',59);
INSERT INTO "event_subjects" VALUES('show1','mix:front',12);
INSERT INTO "event_subjects" VALUES('show1','mix:front',13);
INSERT INTO "event_subjects" VALUES('show1','mix:front',14);
INSERT INTO "event_subjects" VALUES('show1','mix:front',15);
INSERT INTO "event_subjects" VALUES('show1','mix:front',16);
INSERT INTO "event_subjects" VALUES('show1','mix:front',17);
INSERT INTO "event_subjects" VALUES('show1','mix:front',18);
INSERT INTO "event_subjects" VALUES('show1','mix:front',34);
INSERT INTO "event_subjects" VALUES('show1','mix:front',35);
INSERT INTO "event_subjects" VALUES('show1','mix:front',36);
INSERT INTO "event_subjects" VALUES('show1','mix:front',37);
INSERT INTO "event_subjects" VALUES('show1','mix:front',38);
INSERT INTO "event_subjects" VALUES('show1','mix:front',49);
INSERT INTO "event_subjects" VALUES('show1','mix:front',53);
INSERT INTO "event_subjects" VALUES('show1','mix:front',54);
INSERT INTO "event_subjects" VALUES('show1','mix:front',55);
INSERT INTO "event_subjects" VALUES('show1','mix:front',56);
INSERT INTO "event_subjects" VALUES('show1','mix:side',27);
INSERT INTO "event_subjects" VALUES('show1','mix:side',28);
INSERT INTO "event_subjects" VALUES('show1','mix:side',29);
INSERT INTO "event_subjects" VALUES('show1','mix:side',30);
INSERT INTO "event_subjects" VALUES('show1','mix:side',31);
INSERT INTO "event_subjects" VALUES('show1','mix:side',32);
INSERT INTO "event_subjects" VALUES('show1','mix:side',33);
INSERT INTO "event_subjects" VALUES('show1','mix:side',44);
INSERT INTO "event_subjects" VALUES('show1','mix:side',45);
INSERT INTO "event_subjects" VALUES('show1','mix:side',46);
INSERT INTO "event_subjects" VALUES('show1','mix:side',47);
INSERT INTO "event_subjects" VALUES('show1','mix:side',48);
INSERT INTO "event_subjects" VALUES('show1','mix:side',51);
INSERT INTO "event_subjects" VALUES('show1','mix:side',60);
INSERT INTO "event_subjects" VALUES('show1','mix:side',61);
INSERT INTO "event_subjects" VALUES('show1','mix:side',62);
INSERT INTO "event_subjects" VALUES('show1','request:r53',53);
INSERT INTO "event_subjects" VALUES('show1','request:r53',56);
INSERT INTO "event_subjects" VALUES('show1','request:r54',54);
INSERT INTO "event_subjects" VALUES('show1','request:r54',56);
INSERT INTO "event_subjects" VALUES('show1','request:r55',55);
INSERT INTO "event_subjects" VALUES('show1','request:r55',56);
INSERT INTO "event_subjects" VALUES('show1','request:r57',57);
INSERT INTO "event_subjects" VALUES('show1','request:r57',59);
INSERT INTO "event_subjects" VALUES('show1','request:r58',58);
INSERT INTO "event_subjects" VALUES('show1','request:r58',59);
INSERT INTO "event_subjects" VALUES('show1','request:r60',60);
INSERT INTO "event_subjects" VALUES('show1','request:r60',61);
INSERT INTO "event_subjects" VALUES('show1','request:r62',62);
CREATE TABLE events (
	show_id TEXT NOT NULL, 
	revision INTEGER NOT NULL, 
	at_ms BIGINT NOT NULL, 
	"by" TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	body TEXT NOT NULL, 
	CONSTRAINT pk_events PRIMARY KEY (show_id, revision), 
	CONSTRAINT fk_events_show_id FOREIGN KEY(show_id) REFERENCES shows (id)
);
INSERT INTO "events" VALUES('show1',1,1795656301228,'desk','show_opened','{"name":"Evening","is_demo":false}');
INSERT INTO "events" VALUES('show1',2,1795656301258,'desk','source_put','{"source":{"id":"voice","name":"Voice","kind":"open_mic","is_stereo":false,"use":"music","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',3,1795656301267,'desk','source_put','{"source":{"id":"drums","name":"Drums","kind":"open_mic","is_stereo":false,"use":"music","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',4,1795656301283,'desk','source_put','{"source":{"id":"guitar","name":"Guitar","kind":"direct","is_stereo":false,"use":"music","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',5,1795656301291,'desk','source_put','{"source":{"id":"harp","name":"Glass harp","kind":"direct","is_stereo":false,"use":"music","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',6,1795656301299,'desk','source_put','{"source":{"id":"click","name":"Click","kind":"direct","is_stereo":false,"use":"click","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',7,1795656301307,'desk','source_put','{"source":{"id":"talk","name":"Talkback","kind":"open_mic","is_stereo":false,"use":"talkback","trim_tenths":0}}');
INSERT INTO "events" VALUES('show1',8,1795656301315,'desk','musician_put','{"musician":{"id":"singer","name":"Ada","is_lead":false,"chair":"","deputy":""}}');
INSERT INTO "events" VALUES('show1',9,1795656301322,'desk','musician_put','{"musician":{"id":"bass","name":"Bo","is_lead":false,"chair":"","deputy":""}}');
INSERT INTO "events" VALUES('show1',10,1795656301324,'desk','musician_put','{"musician":{"id":"drummer","name":"Cy","is_lead":false,"chair":"","deputy":""}}');
INSERT INTO "events" VALUES('show1',11,1795656301326,'desk','musician_put','{"musician":{"id":"guest","name":"Dorothea","is_lead":false,"chair":"","deputy":""}}');
INSERT INTO "events" VALUES('show1',12,1795656301335,'desk','mix_put','{"mix":{"id":"front","name":"Front wedge","output":"wedge","musicians":["singer"],"place":"centre","auxes":[1],"is_fed_mono":false,"taken_at":"pre_fader","is_cut_by_mutes":null,"has_limiter":null,"is_pack_low":null}}');
INSERT INTO "events" VALUES('show1',13,1795656301335,'desk','send_put','{"mix":"front","source":null,"setting":{"level_tenths":0,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',14,1795656301335,'desk','send_put','{"mix":"front","source":"voice","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',15,1795656301335,'desk','send_put','{"mix":"front","source":"drums","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',16,1795656301335,'desk','send_put','{"mix":"front","source":"guitar","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',17,1795656301335,'desk','send_put','{"mix":"front","source":"harp","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',18,1795656301335,'desk','send_put','{"mix":"front","source":"talk","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',19,1795656301359,'desk','mix_put','{"mix":{"id":"ears","name":"Rhythm","output":"in_ear_pair","musicians":["bass","drummer"],"place":"back","auxes":[3,4],"is_fed_mono":false,"taken_at":"pre_fader","is_cut_by_mutes":null,"has_limiter":null,"is_pack_low":null}}');
INSERT INTO "events" VALUES('show1',20,1795656301359,'desk','send_put','{"mix":"ears","source":null,"setting":{"level_tenths":-100,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',21,1795656301359,'desk','send_put','{"mix":"ears","source":"voice","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',22,1795656301359,'desk','send_put','{"mix":"ears","source":"drums","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',23,1795656301359,'desk','send_put','{"mix":"ears","source":"guitar","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',24,1795656301359,'desk','send_put','{"mix":"ears","source":"harp","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',25,1795656301359,'desk','send_put','{"mix":"ears","source":"click","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',26,1795656301359,'desk','send_put','{"mix":"ears","source":"talk","setting":{"level_tenths":-250,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',27,1795656301369,'desk','mix_put','{"mix":{"id":"side","name":"Side wedge","output":"wedge","musicians":["guest"],"place":"left","auxes":[2],"is_fed_mono":false,"taken_at":"pre_fader","is_cut_by_mutes":null,"has_limiter":null,"is_pack_low":null}}');
INSERT INTO "events" VALUES('show1',28,1795656301369,'desk','send_put','{"mix":"side","source":null,"setting":{"level_tenths":0,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',29,1795656301369,'desk','send_put','{"mix":"side","source":"voice","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',30,1795656301369,'desk','send_put','{"mix":"side","source":"drums","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',31,1795656301369,'desk','send_put','{"mix":"side","source":"guitar","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',32,1795656301369,'desk','send_put','{"mix":"side","source":"harp","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',33,1795656301369,'desk','send_put','{"mix":"side","source":"talk","setting":{"level_tenths":-200,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',34,1795656301390,'desk','send_put','{"mix":"front","source":null,"setting":{"level_tenths":-60,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',35,1795656301407,'desk','send_put','{"mix":"front","source":"voice","setting":{"level_tenths":-40,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',36,1795656301419,'desk','send_put','{"mix":"front","source":"drums","setting":{"level_tenths":-110,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',37,1795656301429,'desk','send_put','{"mix":"front","source":"guitar","setting":{"level_tenths":-160,"pan_percent":0,"is_on":false}}');
INSERT INTO "events" VALUES('show1',38,1795656301433,'desk','send_put','{"mix":"front","source":"harp","setting":{"level_tenths":-170,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',39,1795656301447,'desk','send_put','{"mix":"ears","source":null,"setting":{"level_tenths":-60,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',40,1795656301455,'desk','send_put','{"mix":"ears","source":"voice","setting":{"level_tenths":-40,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',41,1795656301467,'desk','send_put','{"mix":"ears","source":"drums","setting":{"level_tenths":-110,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',42,1795656301475,'desk','send_put','{"mix":"ears","source":"guitar","setting":{"level_tenths":-160,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',43,1795656301491,'desk','send_put','{"mix":"ears","source":"harp","setting":{"level_tenths":-170,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',44,1795656301508,'desk','send_put','{"mix":"side","source":null,"setting":{"level_tenths":-60,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',45,1795656301515,'desk','send_put','{"mix":"side","source":"voice","setting":{"level_tenths":-40,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',46,1795656301527,'desk','send_put','{"mix":"side","source":"drums","setting":{"level_tenths":-110,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',47,1795656301533,'desk','send_put','{"mix":"side","source":"guitar","setting":{"level_tenths":-160,"pan_percent":0,"is_on":false}}');
INSERT INTO "events" VALUES('show1',48,1795656301551,'desk','send_put','{"mix":"side","source":"harp","setting":{"level_tenths":-170,"pan_percent":0,"is_on":true}}');
INSERT INTO "events" VALUES('show1',49,1795656301566,'desk','send_removed','{"mix":"front","source":"harp"}');
INSERT INTO "events" VALUES('show1',50,1795656301575,'desk','send_removed','{"mix":"ears","source":"harp"}');
INSERT INTO "events" VALUES('show1',51,1795656301586,'desk','send_removed','{"mix":"side","source":"voice"}');
INSERT INTO "events" VALUES('show1',52,1795656301599,'desk','soundcheck_marked','{}');
INSERT INTO "events" VALUES('show1',53,1795656301615,'singer','change_asked','{"request":"r53","mix":"front","source":"voice","kind":"level","musician":"singer","amount":30,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',54,1795656301635,'singer','change_asked','{"request":"r54","mix":"front","source":"voice","kind":"level","musician":"singer","amount":30,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',55,1795656301663,'singer','change_asked','{"request":"r55","mix":"front","source":"voice","kind":"level","musician":"singer","amount":-10,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',56,1795656301678,'desk','requests_answered','{"decision":"d56","mix":"front","source":"voice","kind":"level","requests":["r53","r54","r55"],"outcome":"done","asked":50,"move":{"mix":"front","source":"voice","before":{"level_tenths":-40,"pan_percent":0,"is_on":true},"after":{"level_tenths":-10,"pan_percent":0,"is_on":true}},"reason":"in_steps","way":"plain","also":[]}');
INSERT INTO "events" VALUES('show1',57,1795656301697,'bass','change_asked','{"request":"r57","mix":"ears","source":"drums","kind":"level","musician":"bass","amount":20,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',58,1795656301710,'bass','change_asked','{"request":"r58","mix":"ears","source":"drums","kind":"level","musician":"bass","amount":-20,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',59,1795656301710,'bass','requests_cancelled_out','{"mix":"ears","requests":["r57","r58"]}');
INSERT INTO "events" VALUES('show1',60,1795656301723,'guest','change_asked','{"request":"r60","mix":"side","source":"harp","kind":"level","musician":"guest","amount":-30,"words":"","call":null,"client_id":"","group":""}');
INSERT INTO "events" VALUES('show1',61,1795656301735,'desk','requests_answered','{"decision":"d61","mix":"side","source":"harp","kind":"level","requests":["r60"],"outcome":"not_done","asked":-30,"move":null,"reason":"after_this_song","way":"plain","also":[]}');
INSERT INTO "events" VALUES('show1',62,1795656301747,'guest','change_asked','{"request":"r62","mix":"side","source":null,"kind":"level","musician":"guest","amount":10,"words":"","call":null,"client_id":"","group":""}');
CREATE TABLE settings (
	name TEXT NOT NULL, 
	value TEXT NOT NULL, 
	CONSTRAINT pk_settings PRIMARY KEY (name)
);
INSERT INTO "settings" VALUES('wifi_network','Stage');
CREATE TABLE shows (
	id TEXT NOT NULL, 
	name TEXT NOT NULL, 
	is_open BOOLEAN NOT NULL, 
	is_demo BOOLEAN NOT NULL, 
	head INTEGER NOT NULL, 
	opened_at_ms BIGINT NOT NULL, 
	CONSTRAINT pk_shows PRIMARY KEY (id)
);
INSERT INTO "shows" VALUES('show1','Evening',1,0,62,1795656301202);
CREATE TABLE submissions (
	show_id TEXT NOT NULL, 
	scope TEXT NOT NULL, 
	client_id TEXT NOT NULL, 
	fingerprint TEXT NOT NULL, 
	first_revision INTEGER NOT NULL, 
	last_revision INTEGER NOT NULL, 
	CONSTRAINT pk_submissions PRIMARY KEY (show_id, scope, client_id), 
	CONSTRAINT fk_submissions_show_id FOREIGN KEY(show_id) REFERENCES shows (id)
)
 WITHOUT ROWID

;
INSERT INTO "submissions" VALUES('show1','front','ask-0','print-0',53,53);
INSERT INTO "submissions" VALUES('show1','front','ask-1','print-1',54,54);
INSERT INTO "submissions" VALUES('show1','front','ask-2','print-2',55,55);
COMMIT;
