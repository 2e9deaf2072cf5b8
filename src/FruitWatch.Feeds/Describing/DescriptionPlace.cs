using System.Globalization;
using System.Text.Json;
using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>
/// One place in a description being read: what is there, where it is, and the list that gathers every problem, so that the
/// person who wrote the description hears of all of them at once. A member that cannot be read yields a stand-in; the
/// description is thrown away with it.
/// </summary>
internal sealed class DescriptionPlace(JsonElement element, string pointer, List<FeedDescriptionProblem> problems)
{
    public JsonElement Element => element;

    public string Pointer => pointer;

    /// <summary>Nothing was wrong here or below; cross-checks speak only then.</summary>
    public bool IsClean => !problems.Any(problem =>
        problem.Place == pointer || problem.Place.StartsWith(pointer + "/", StringComparison.Ordinal));

    public void Refuse(string what, string mend) => problems.Add(new FeedDescriptionProblem(pointer, what, mend));

    public void Refuse(string member, string what, string mend) =>
        problems.Add(new FeedDescriptionProblem(PointerTo(member), what, mend));

    /// <summary>Says which members this object has; all others are refused, missing ones with an exclamation mark asked for.</summary>
    public bool Object(params string[] members)
    {
        if (element.ValueKind != JsonValueKind.Object)
        {
            Refuse("An object is needed here.", "Write { … }.");
            return false;
        }
        var known = members.Select(member => member.TrimEnd('!')).ToList();
        foreach (var unknown in element.EnumerateObject().Where(property => !known.Contains(property.Name)))
            Refuse(unknown.Name, "There is no such member.", $"Remove it, or correct its name: {string.Join(", ", known)}.");
        foreach (var needed in members.Where(member => member.EndsWith('!')).Select(member => member.TrimEnd('!')))
        {
            if (!element.TryGetProperty(needed, out _))
                Refuse(needed, "This member is missing.", "Add it.");
        }
        return true;
    }

    public DescriptionPlace? Member(string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var value)
            ? new DescriptionPlace(value, PointerTo(name), problems)
            : null;

    public IReadOnlyList<(string Name, DescriptionPlace Place)> Members()
    {
        if (element.ValueKind == JsonValueKind.Object)
            return [.. element.EnumerateObject().Select(property =>
                (property.Name, new DescriptionPlace(property.Value, PointerTo(property.Name), problems)))];
        if (IsClean)
            Refuse("An object is needed here.", "Write { … }.");
        return [];
    }

    public IReadOnlyList<DescriptionPlace> Items(string name, int most = 1000)
    {
        if (Member(name) is not { } list)
            return [];
        if (list.Element.ValueKind != JsonValueKind.Array)
        {
            list.Refuse("A list is needed here.", "Write [ … ].");
            return [];
        }
        if (list.Element.GetArrayLength() > most)
            list.Refuse($"The list is longer than {most}.", "Shorten it.");
        return [.. list.Element.EnumerateArray().Select((item, i) =>
            new DescriptionPlace(item, list.PointerTo(i.ToString(CultureInfo.InvariantCulture)), problems))];
    }

    public string AsText(int longest = 2000)
    {
        if (element.ValueKind != JsonValueKind.String)
            Refuse("Text is needed here.", "Put it in quotation marks.");
        else if (element.GetString()!.Length > longest)
            Refuse($"The text is longer than {longest} characters.", "Shorten it.");
        else
            return element.GetString()!;
        return "";
    }

    public string? Text(string name, int longest = 2000) => Member(name)?.AsText(longest);

    public IReadOnlyList<string> Texts(string name) => [.. Items(name).Select(item => item.AsText())];

    public bool Flag(string name)
    {
        if (Member(name) is not { } place)
            return false;
        if (place.Element.ValueKind is not (JsonValueKind.True or JsonValueKind.False))
            place.Refuse("true or false is needed here.", "Write one of them, without quotation marks.");
        return place.Element.ValueKind == JsonValueKind.True;
    }

    public int? Whole(string name, int least, int most) => Member(name)?.AsWhole(least, most);

    public int? AsWhole(int least, int most)
    {
        if (element.ValueKind == JsonValueKind.Number && element.TryGetInt32(out var number) && number >= least && number <= most)
            return number;
        Refuse($"A whole number from {least} to {most} is needed here.", "Correct it.");
        return null;
    }

    public double AsNumber()
    {
        if (element.ValueKind == JsonValueKind.Number && element.TryGetDouble(out var number) && double.IsFinite(number))
            return number;
        Refuse("A number is needed here.", "Write it with a point and without quotation marks.");
        return double.NaN;
    }

    /// <summary>A word out of a closed list; its place in the list is the value of the enumeration.</summary>
    public T Word<T>(string name, T otherwise, params string[] words)
        where T : struct, Enum
    {
        if (Member(name) is not { } place)
            return otherwise;
        var at = place.Element.ValueKind == JsonValueKind.String ? Array.IndexOf(words, place.Element.GetString()) : -1;
        if (at >= 0)
            return Enum.GetValues<T>()[at];
        place.Refuse("This is not one of the words allowed here.", $"Use one of: {string.Join(", ", words)}.");
        return otherwise;
    }

    public JsonPointer? AsPointer()
    {
        var text = AsText();
        if (element.ValueKind == JsonValueKind.String && JsonPointer.TryParse(text) is { } found)
            return found;
        if (element.ValueKind == JsonValueKind.String)
            Refuse($"\"{text}\" is not a JSON pointer.", "Begin with / and write ~0 for ~ and ~1 for / inside a name.");
        return null;
    }

    public JsonPointer? At(string name) => Member(name)?.AsPointer();

    public Duration? Span(string name, Duration? longest = null)
    {
        if (Member(name) is not { } place)
            return null;
        var text = place.AsText();
        if (IsoDuration.TryParse(text) is { } span && span > Duration.Zero)
        {
            if (span > longest)
                place.Refuse($"\"{text}\" is longer than {longest.Value.TotalDays:0} days.", "Shorten it.");
            return span;
        }
        if (place.Element.ValueKind == JsonValueKind.String)
            place.Refuse($"\"{text}\" is not a duration.", "Write days, hours, minutes and seconds, for example PT1H or P1DT12H.");
        return null;
    }

    private string PointerTo(string member) => pointer + "/" + JsonPointer.Escape(member);
}
