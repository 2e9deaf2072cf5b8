using FruitWatch.Model.Beds;
using FruitWatch.Service.Log;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Deeds;

/// <summary>Which log entry a deed makes.</summary>
internal static class DeedEntries
{
    /// <summary>The entry; null for a deed that makes none, or one that the notice says too little for.</summary>
    public static LogRow? Of(Deed deed, IssuedNotice notice, LocalDate today)
    {
        if (notice.BedId is not { } bed)
            return null;
        return deed switch
        {
            // The log keeps litres, as notices do.
            Deed.Watered when notice.Amount is { } litres => new LogRow { BedId = bed, On = today, Kind = LogKinds.Watered, Amount = litres },
            Deed.CoverOn => new LogRow { BedId = bed, On = today, Kind = LogKinds.Cover, Text = ApiJson.WordOf(Cover.Sheet) },
            Deed.CoverOff => new LogRow { BedId = bed, On = today, Kind = LogKinds.Cover, Text = ApiJson.WordOf(Cover.None) },
            Deed.PinsSeen => new LogRow { BedId = bed, On = today, Kind = LogKinds.Pins },
            _ => null,
        };
    }
}
