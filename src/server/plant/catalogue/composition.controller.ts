import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { BomDto, BomRevisionView, BomView, RecipeDto, RecipeRevisionView, RecipeView } from './composition.dto.js';
import { CatalogueService } from './catalogue.service.js';

@Controller('recipes')
export class RecipesController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a recipe, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseRecipe(@CurrentActor() actor: Actor, @Body() body: RecipeDto): Promise<RecipeView> {
    return this.catalogue.revise(actor, 'recipe', body);
  }

  /** Every recipe as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listRecipes(): Promise<RecipeView[]> {
    return this.catalogue.list('recipe');
  }

  /** A recipe as it stands. */
  @Get(':recipe')
  @May(...EVERYONE)
  getRecipe(@Param('recipe') code: string): Promise<RecipeView> {
    return this.catalogue.one('recipe', code);
  }

  /** Every revision of a recipe, first to last: when, by whom and why. */
  @Get(':recipe/history')
  @May(...EVERYONE)
  getRecipeHistory(@Param('recipe') code: string): Promise<RecipeRevisionView[]> {
    return this.catalogue.history('recipe', code);
  }
}

@Controller('boms')
export class BomsController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a bill of materials, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseBom(@CurrentActor() actor: Actor, @Body() body: BomDto): Promise<BomView> {
    return this.catalogue.revise(actor, 'bom', body);
  }

  /** Every bill of materials as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listBoms(): Promise<BomView[]> {
    return this.catalogue.list('bom');
  }

  /** A bill of materials as it stands. */
  @Get(':bom')
  @May(...EVERYONE)
  getBom(@Param('bom') code: string): Promise<BomView> {
    return this.catalogue.one('bom', code);
  }

  /** Every revision of a bill of materials, first to last: when, by whom and why. */
  @Get(':bom/history')
  @May(...EVERYONE)
  getBomHistory(@Param('bom') code: string): Promise<BomRevisionView[]> {
    return this.catalogue.history('bom', code);
  }
}
