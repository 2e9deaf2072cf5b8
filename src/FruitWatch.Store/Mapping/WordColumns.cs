using System.Text.Json;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Weather;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace FruitWatch.Store.Mapping;

/// <summary>Fixed sets of words are kept as lower-case words, such as <c>pierced-sheet</c>: a row can be read without the program that wrote it.</summary>
internal static class WordColumns
{
    public static void KeepWords(this ModelConfigurationBuilder columns)
    {
        columns.Properties<Cover>().HaveConversion<WordColumn<Cover>>();
        columns.Properties<Provenance>().HaveConversion<WordColumn<Provenance>>();
        columns.Properties<NoticeState>().HaveConversion<WordColumn<NoticeState>>();
        columns.Properties<MailState>().HaveConversion<WordColumn<MailState>>();
        columns.Properties<BackfillState>().HaveConversion<WordColumn<BackfillState>>();
        columns.Properties<Role>().HaveConversion<WordColumn<Role>>();
        columns.Properties<Units>().HaveConversion<WordColumn<Units>>();
        columns.Properties<DeliveryState>().HaveConversion<WordColumn<DeliveryState>>();
        columns.Properties<DigestWish>().HaveConversion<WordColumn<DigestWish>>();
        columns.Properties<UrgentWish>().HaveConversion<WordColumn<UrgentWish>>();
        columns.Properties<DigestRole>().HaveConversion<WordColumn<DigestRole>>();
    }

    /// <summary>The word that is kept.</summary>
    public static string ToColumn<T>(T word)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString());

    private static T FromColumn<T>(string kept)
        where T : struct, Enum => Enum.Parse<T>(kept.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);

    private sealed class WordColumn<T>() : ValueConverter<T, string>(
        word => ToColumn(word), kept => FromColumn<T>(kept))
        where T : struct, Enum;
}
