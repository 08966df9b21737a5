package strict

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
)

// wholeNumber and decimalNumber are the only ways to write numbers.
var (
	wholeNumber   = regexp.MustCompile(`^-?(0|[1-9][0-9]*)$`)
	decimalNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)
	leadingZero   = regexp.MustCompile(`^-?0[0-9]`)
)

// intoScalar fills a string, bool or number.
func (v *Value) intoScalar(target reflect.Value, report Report) {
	switch target.Kind() {
	case reflect.String:
		if v.expect(Scalar, report) && v.isAllowed(target.Type(), report) {
			target.SetString(v.Text)
		}
	case reflect.Bool:
		if v.expect(Scalar, report) {
			v.intoBool(target, report)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		if v.expect(Scalar, report) {
			v.intoInt(target, report)
		}
	case reflect.Float32, reflect.Float64:
		if v.expect(Scalar, report) {
			v.intoFloat(target, report)
		}
	default:
		panic(fmt.Sprintf("strict: a %s cannot be read from a file", target.Type()))
	}
}

// isAllowed checks the word of an [Enum].
func (v *Value) isAllowed(t reflect.Type, report Report) bool {
	if !t.Implements(enumType) {
		return true
	}
	allowed := reflect.Zero(t).Interface().(Enum).Allowed()
	if slices.Contains(allowed, v.Text) {
		return true
	}
	report(v.Pos, fmt.Sprintf("%q is not allowed here", clip(v.Text)), AllowedHint(v.Text, allowed))
	return false
}

func (v *Value) intoBool(target reflect.Value, report Report) {
	switch v.Text {
	case "yes", "true":
		target.SetBool(true)
	case "no", "false":
		target.SetBool(false)
	default:
		report(v.Pos, fmt.Sprintf("expected yes or no, found %q", clip(v.Text)), "")
	}
}

func (v *Value) intoInt(target reflect.Value, report Report) {
	if v.Quoted || !wholeNumber.MatchString(v.Text) {
		report(v.Pos, fmt.Sprintf("expected a whole number, found %q", clip(v.Text)), v.numberHint())
		return
	}
	n, err := strconv.ParseInt(v.Text, 10, 64)
	if err != nil || target.OverflowInt(n) {
		report(v.Pos, fmt.Sprintf("the number %s is too large", clip(v.Text)), "")
		return
	}
	target.SetInt(n)
}

func (v *Value) intoFloat(target reflect.Value, report Report) {
	if v.Quoted || !decimalNumber.MatchString(v.Text) {
		report(v.Pos, fmt.Sprintf("expected a number, found %q", clip(v.Text)), v.numberHint())
		return
	}
	x, err := strconv.ParseFloat(v.Text, 64)
	if err != nil || target.OverflowFloat(x) {
		report(v.Pos, fmt.Sprintf("the number %s is too large", clip(v.Text)), "")
		return
	}
	target.SetFloat(x)
}

// numberHint says why a text that looks like a number is none.
func (v *Value) numberHint() string {
	switch {
	case leadingZero.MatchString(v.Text):
		return "a number does not start with a zero before another digit"
	case v.Quoted && decimalNumber.MatchString(v.Text):
		return "write the number without quotes"
	}
	return ""
}
