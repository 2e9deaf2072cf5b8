using FruitWatch.Service.Web;

namespace FruitWatch.Service.Pages;

/// <summary>A field of a form, as it is shown.</summary>
/// <param name="Form">The form.</param>
/// <param name="Name">Name of the field.</param>
/// <param name="Label">What it is called.</param>
internal sealed record FieldShown(FormFields Form, string Name, string Label)
{
    public string Type { get; init; } = "text";

    /// <summary>What helps to fill it in; null where nothing need be said.</summary>
    public string? Hint { get; init; }

    public bool Required { get; init; }

    /// <summary>Longest text; null where nothing limits it.</summary>
    public int? Most { get; init; }

    /// <summary>Least and greatest value.</summary>
    public string? Low { get; init; }

    public string? High { get; init; }

    /// <summary>Name of the list of things that are often filled in.</summary>
    public string? Offered { get; init; }

    /// <summary>What the browser may fill in.</summary>
    public string Auto { get; init; } = "off";

    /// <summary>It is shown, and cannot be changed here.</summary>
    public bool Fixed { get; init; }

    /// <summary>What can be chosen, as it is kept and as it is said; empty for what is filled in.</summary>
    public IReadOnlyList<(string Kept, string Said)> Choices { get; init; } = [];

    public string Id => Form.IdPrefix + FormFields.IdOf(Name);

    public string? Error => Form.ErrorOf(Name);

    public string? Unit => Form.UnitOf(Name)?.Unit;

    public string? DescribedBy => string.Join(' ', new[] { Hint is null ? null : $"{Id}-hint", Error is null ? null : $"{Id}-error" }.OfType<string>()) is { Length: > 0 } ids ? ids : null;

    /// <summary>A number, in the field's unit.</summary>
    public static FieldShown Number(FormFields form, string name, string label, double low, double high) => new(form, name, label)
    {
        Type = "number",
        Low = form.Shown(name, low),
        High = form.Shown(name, high),
    };
}
