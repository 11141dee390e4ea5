import { ModulesContainer } from '@nestjs/core';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { DocumentBuilder, type OpenAPIObject, SwaggerModule } from '@nestjs/swagger';
import { EVERYONE, MAY, OPEN_TO_ALL, type Role } from './plant/people/access.js';
import { SESSION_COOKIE } from './plant/people/session-cookie.js';

type Operation = OpenAPIObject['paths'][string]['get'] & object;

const REASON = {
  type: 'object',
  required: ['code', 'detail'],
  properties: {
    code: { type: 'string', description: 'For programs: stays the same when the sentence is reworded.' },
    detail: { type: 'string', description: 'For people.' },
    pointer: { type: 'string', description: 'JSON pointer into the request, where the reason belongs to one field.' },
  },
  additionalProperties: true,
};

/** RFC 9457 problem details, with every reason at once. */
const PROBLEM = {
  type: 'object',
  required: ['type', 'title', 'status', 'detail', 'reasons'],
  properties: {
    type: { type: 'string' },
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string' },
    reasons: { type: 'array', items: { $ref: '#/components/schemas/Reason' } },
  },
};

const ABOUT = `Lot traceability and nonconformance ledger. Quantities are decimal text, codes are compared exactly, instants are UTC ISO 8601
with milliseconds. A command may carry a \`commandId\` made by the client; sent again, it is answered again and not done again.
Every error is \`application/problem+json\` with every reason at once.`;

/** Method name (operation ids are method names) to who may call it. */
function whoMayCall(app: NestFastifyApplication): Map<string, 'open' | readonly Role[]> {
  const may = new Map<string, 'open' | readonly Role[]>();
  for (const module of app.get(ModulesContainer).values()) {
    for (const { metatype } of module.controllers.values()) {
      const handlers = Object.entries(Object.getOwnPropertyDescriptors(metatype?.prototype ?? {}));
      for (const [name, { value }] of handlers) {
        if (typeof value !== 'function') continue;
        if (Reflect.getMetadata(OPEN_TO_ALL, value)) may.set(name, 'open');
        const roles = Reflect.getMetadata(MAY, value) as readonly Role[] | undefined;
        if (roles) may.set(name, roles);
      }
    }
  }
  return may;
}

/** Adds what no route says for itself: who may call it, and that every error is a problem. */
function complete(operation: Operation, may: 'open' | readonly Role[] | undefined): void {
  if (may === 'open') {
    operation.security = [];
  } else if (may) {
    const who = may.length === EVERYONE.length ? 'anyone signed in' : may.join(', ');
    operation.description = [operation.description, `For ${who}.`].filter(Boolean).join('\n\n');
  }
  operation.responses['default'] = { $ref: '#/components/responses/Problem' };
}

interface Property {
  type?: unknown;
  description?: string;
  items?: Property & { required?: unknown };
}

/** Of a list of lists the plugin describes the inner one: that it may be null and what it is belongs to the outer. */
function describeOuterList(property: Property): void {
  const inner = property.items;
  if (inner === undefined || inner.required !== true) return;
  const { required: _misplaced, description, type, ...rest } = inner;
  property.items = { ...rest, type: 'array' };
  if (Array.isArray(type) && type.includes('null')) property.type = ['array', 'null'];
  if (description !== undefined) property.description = description;
}

/** The OpenAPI 3.1 document of the running application. */
export function openApi(app: NestFastifyApplication): OpenAPIObject {
  const built = new DocumentBuilder()
    .setOpenAPIVersion('3.1.0')
    .setTitle('Kinledger')
    .setDescription(ABOUT)
    .setVersion('1')
    .addCookieAuth(SESSION_COOKIE, { type: 'apiKey', in: 'cookie', name: SESSION_COOKIE }, 'session')
    .addBearerAuth({ type: 'http', scheme: 'bearer' }, 'key')
    .addSecurityRequirements('session')
    .addSecurityRequirements('key')
    .build();
  const document = SwaggerModule.createDocument(app, built, { operationIdFactory: (_controller, method) => method });
  const may = whoMayCall(app);
  for (const path of Object.values(document.paths)) {
    for (const operation of [path.get, path.post, path.put, path.patch, path.delete]) {
      if (operation) complete(operation, may.get(operation.operationId ?? ''));
    }
  }
  for (const schema of Object.values(document.components?.schemas ?? {})) {
    if ('properties' in schema) Object.values(schema.properties ?? {}).forEach((property) => describeOuterList(property as Property));
  }
  document.components = {
    ...document.components,
    schemas: { ...document.components?.schemas, Reason: REASON, Problem: PROBLEM },
    responses: {
      Problem: {
        description: 'What went wrong, with every reason',
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    },
  };
  return document;
}

/** The document at /api/openapi.json and a page to read it at /api/docs, whose parts all come from this server. */
export function serveOpenApi(app: NestFastifyApplication): void {
  SwaggerModule.setup('api/docs', app, () => openApi(app), {
    jsonDocumentUrl: 'api/openapi.json',
    raw: ['json'],
    customSiteTitle: 'Kinledger: the API',
    customCss: '.swagger-ui .topbar { display: none }', // a logo and an empty search field
    swaggerOptions: { validatorUrl: null }, // the default asks a server elsewhere
  });
}
