package api

import (
	"context"
	"strconv"

	"hodman/service/product"
)

// GetRulebook answers with every rule of a book.
func (s *server) GetRulebook(_ context.Context, r GetRulebookRequestObject) (GetRulebookResponseObject, error) {
	book, err := s.svc.Rulebook(r.Rulebook)
	if err != nil {
		return nil, err
	}
	return tagged(book, strconv.Quote(book.ID()), r.Params.IfNoneMatch)
}

// ListProducts answers with part of the catalogue.
func (s *server) ListProducts(ctx context.Context, r ListProductsRequestObject) (ListProductsResponseObject, error) {
	var kind product.Kind
	if r.Params.Kind != nil {
		kind = *r.Params.Kind
	}
	in := callOf(ctx)
	page, err := in.page(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	list, err := s.svc.Products(kind, page)
	if err != nil {
		return nil, err
	}
	return listed(in, list)
}
